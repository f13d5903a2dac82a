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
      "From the bench to the profile: what points and readings say of cells, array, rotors and logger, and"
          + " how surely.",
      "",
      "Load resistors burn, cells are sharp as glass, and a DC arc does not go out: work with care,"
          + " and by the electrical rules of your place."
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
        spec.commandLine(), "fit what? One of array, cell, rotor, resistor, logger");
  }
}
