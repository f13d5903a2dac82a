package org.solarmargin.cli;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.slf4j.LoggerFactory;
import org.solarmargin.cli.check.CheckCommand;
import org.solarmargin.cli.compare.CompareCommand;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.file.NamedStream;
import org.solarmargin.cli.file.OutputFault;
import org.solarmargin.cli.fit.FitCommand;
import org.solarmargin.cli.format.TerminalText;
import org.solarmargin.cli.init.InitCommand;
import org.solarmargin.cli.option.ExitStatus;
import org.solarmargin.cli.option.OutputCheck;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.option.UsageFault;
import org.solarmargin.cli.outlook.LogbookCommand;
import org.solarmargin.cli.outlook.OutlookCommand;
import org.solarmargin.cli.outlook.SizeCommand;
import org.solarmargin.cli.rehearse.RehearseCommand;
import org.solarmargin.cli.replay.ReplayCommand;
import org.solarmargin.cli.simulate.SimulateCommand;
import org.solarmargin.cli.trial.TrialCommand;
import org.solarmargin.cli.tune.TuneCommand;
import org.solarmargin.cli.watch.WatchCommand;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.core.profile.PropertiesException;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.IVersionProvider;

/** The margin command. */
@Command(
    name = "margin",
    mixinStandardHelpOptions = true,
    versionProvider = Main.Version.class,
    description = {
      "Power margin of a multirotor that flies on sunlight alone: how much more power the array"
          + " could deliver than the motors draw.",
      "",
      "Advisory only, not certified. Keep a landing option at all times; test tethered and away"
          + " from people first."
    },
    synopsisSubcommandLabel = "VERB",
    exitCodeListHeading = "%nExit status:%n",
    exitCodeList = {
      "0:done",
      "1:a fault of the program, or an output that cannot be written",
      "2:wrong usage",
      "3:an input that cannot be used, or a log whose estimates cannot be relied on",
      "4:a requested check failed (replay --fail-on, tune --check)"
    })
public final class Main {

  private static final Path STANDARD_OUTPUT = Path.of("standard output");

  private static final List<Class<?>> VERBS =
      List.of(
          InitCommand.class,
          CheckCommand.class,
          ReplayCommand.class,
          SimulateCommand.class,
          TrialCommand.class,
          FitCommand.class,
          TuneCommand.class,
          CompareCommand.class,
          WatchCommand.class,
          RehearseCommand.class,
          OutlookCommand.class,
          SizeCommand.class,
          LogbookCommand.class,
          CommandLine.HelpCommand.class);

  private Main() {}

  /** Version from the jar's manifest. */
  static final class Version implements IVersionProvider {
    @Override
    public String[] getVersion() {
      String version = Main.class.getPackage().getImplementationVersion();
      return new String[] {"margin " + (version == null ? "(not packaged)" : version)};
    }
  }

  /**
   * Runs one verb and exits with its status.
   *
   * @param args verb, options and files
   */
  public static void main(String[] args) {
    PrintWriter err = new PrintWriter(System.err, true, StandardCharsets.UTF_8);
    int status = run(args, new FileOutputStream(FileDescriptor.out), err);
    err.flush();
    System.exit(status);
  }

  /**
   * Runs one verb, and reports text that could not be written, which a {@link PrintWriter} does
   * not.
   */
  static int run(String[] args, OutputStream out, PrintWriter err) {
    NamedStream stream = new NamedStream(out, STANDARD_OUTPUT, NamedStream.PART_REMAINS);
    PrintWriter text = new PrintWriter(stream, false, StandardCharsets.UTF_8);
    int status = run(args, text, err);
    text.flush();
    // the reader of a pipe, such as head, may have gone: this is no fault
    Optional<OutputFault> fault =
        stream.fault().filter(f -> !f.getMessage().contains("Broken pipe"));
    fault.ifPresent(f -> err.println(f.getMessage()));
    return status == CommandLine.ExitCode.OK && fault.isPresent()
        ? ExitStatus.PROGRAM_FAULT
        : status;
  }

  /**
   * Runs one verb.
   *
   * @param args verb, options and files
   * @param out for human-readable output
   * @param err for diagnostics
   * @return exit status
   */
  public static int run(String[] args, PrintWriter out, PrintWriter err) {
    boolean colours = CommandLine.Help.Ansi.AUTO.enabled();
    PrintWriter safeOut = new PrintWriter(new TerminalText(out, colours));
    PrintWriter safeErr = new PrintWriter(new TerminalText(err, colours), true);
    int status = runSafe(args, safeOut, safeErr);
    safeOut.flush();
    safeErr.flush();
    return status;
  }

  private static int runSafe(String[] args, PrintWriter out, PrintWriter err) {
    CommandLine line = verbs(args.length == 0 ? "" : args[0]);
    line.setOut(out);
    line.setErr(err);
    line.setUsageHelpWidth(80);
    line.setExecutionExceptionHandler((fault, command, parsed) -> report(fault, err));
    if (args.length == 0) {
      line.usage(out);
      return CommandLine.ExitCode.USAGE;
    }
    return line.execute(args);
  }

  /**
   * Creates the command line with the verb of a name, or with all verbs if none has it, before any
   * argument is parsed. Reading the options of all verbs takes half of the time to the first margin
   * of a watch.
   */
  static CommandLine verbs(String name) {
    CommandLine line = new CommandLine(new Main());
    for (Class<?> verb : named(name)) {
      line.addSubcommand(name(verb), verb);
    }
    line.registerConverter(OutputFile.class, new OutputFile.Converter());
    line.registerConverter(Double.class, Main::number);
    line.registerConverter(double.class, Main::number);
    line.setExecutionStrategy(OutputCheck::execute);
    line.setParameterExceptionHandler(new UsageFault());
    return line;
  }

  private static List<Class<?>> named(String name) {
    for (Class<?> verb : VERBS) {
      if (name(verb).equals(name) && verb != CommandLine.HelpCommand.class) {
        return List.of(verb);
      }
    }
    return VERBS;
  }

  private static String name(Class<?> verb) {
    return verb.getAnnotation(Command.class).name();
  }

  private static double number(String text) {
    try {
      return PlainNumber.parse(text);
    } catch (NumberFormatException e) {
      throw new CommandLine.TypeConversionException("'" + text + "' is not a number");
    }
  }

  private static int report(Exception fault, PrintWriter err) {
    if (fault instanceof InputFault || fault instanceof PropertiesException) {
      err.println(fault.getMessage());
      return ExitStatus.UNUSABLE_INPUT;
    }
    LoggerFactory.getLogger(Main.class).debug("stopped", fault);
    if (fault instanceof OutputFault) {
      err.println(fault.getMessage());
      return ExitStatus.PROGRAM_FAULT;
    }
    String message = fault.getMessage() == null ? fault.toString() : fault.getMessage();
    err.println("margin: " + message + " (this is a fault of the program or of an output)");
    return ExitStatus.PROGRAM_FAULT;
  }
}
