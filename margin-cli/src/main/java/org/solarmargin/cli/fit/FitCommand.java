package org.solarmargin.cli.fit;

import org.solarmargin.cli.fit.logger.LoggerCommand;
import picocli.CommandLine.Command;
import picocli.CommandLine.HelpCommand;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code margin fit}. */
@Command(
    name = "fit",
    mixinStandardHelpOptions = true,
    description = {
      "Turns bench measurements into profile lines with standard errors: cells, array, rotors and"
          + " logger.",
      "",
      "Load resistors get hot enough to burn skin, cells are as sharp as glass, and a DC arc does"
          + " not extinguish itself: work with care, and follow local electrical rules."
    },
    synopsisSubcommandLabel = "WHAT",
    subcommands = {
      ArrayCommand.class,
      CellCommand.class,
      RotorCommand.class,
      ResistorCommand.class,
      LoggerCommand.class,
      HelpCommand.class
    })
public final class FitCommand implements Runnable {

  @Spec private CommandSpec spec;

  /** A command with no options yet; picocli fills them in. */
  public FitCommand() {}

  @Override
  public void run() {
    throw new ParameterException(
        spec.commandLine(), "name what to fit: array, cell, rotor, resistor or logger");
  }
}
