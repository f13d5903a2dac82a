package org.solarmargin.cli.option;

import java.io.PrintWriter;
import picocli.CommandLine;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/**
 * Reports wrong usage: the message, a similar name if there is one, and how to get help. The help
 * itself is not printed, because it is so long that the message would scroll out of the terminal.
 */
public final class UsageFault implements IParameterExceptionHandler {

  /** A handler without state. */
  public UsageFault() {}

  @Override
  public int handleParseException(ParameterException fault, String[] args) {
    CommandLine line = fault.getCommandLine();
    PrintWriter err = line.getErr();
    err.println(line.getColorScheme().errorText(fault.getMessage()));
    if (!(fault instanceof OutputCheck.Refusal)) {
      UnmatchedArgumentException.printSuggestions(fault, err);
      err.println("Help: " + line.getCommandSpec().qualifiedName() + " --help");
    }
    return CommandLine.ExitCode.USAGE;
  }
}
