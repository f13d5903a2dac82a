package org.solarmargin.cli.replay;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.solarmargin.cli.CraftOption;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.text.Progress;
import org.solarmargin.cli.text.WholeFile;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin replay}. */
@Command(
    name = "replay",
    mixinStandardHelpOptions = true,
    description = {
      "Reads a flight log and says how close it was, when you would have been warned, and how far to"
          + " trust that.",
      "",
      "The log is CSV with a header: time_s, bus_v, bus_a, throttle (0 to 1), and if there are any"
          + " cell_c, height_m, event. Other names and units: --column."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin replay flight.csv --craft stilt.properties",
      "  margin replay flight.csv --craft stilt.properties --estimates margin.csv",
      "  margin replay blackbox.csv --craft stilt.properties \\",
      "      --column bus_v=voltage:mV --column bus_a=current:mA --column throttle=motor:us"
    })
public final class ReplayCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "LOG", description = "flight log, CSV")
  private Path log;

  @Mixin private CraftOption craft;

  @Option(
      names = "--estimates",
      paramLabel = "FILE",
      description = "write available power, margin, ceiling and status of every sample, CSV")
  private Path estimates;

  @Option(
      names = "--alerts",
      paramLabel = "FILE",
      description = "write every alert raised or cleared, CSV")
  private Path alerts;

  @Option(
      names = "--column",
      paramLabel = "NAME=HEADER[:UNIT]",
      description = {
        "the log's own name and unit of a column; may be given again. Units: time_s s ms us ns; bus_v V"
            + " mV cV; bus_a A mA cA; throttle 1 pct us (1000 to 2000); cell_c C K cC; height_m m cm mm"
      })
  private List<String> columns = new ArrayList<>();

  /** A command with no options yet; picocli fills them in. */
  public ReplayCommand() {}

  @Override
  public Integer call() throws IOException {
    ColumnMap map;
    try {
      map = new ColumnMap(columns);
    } catch (IllegalArgumentException e) {
      throw new CommandLine.ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    CraftProfile profile = craft.read();
    try (WholeFile estimatesFile = estimates == null ? null : new WholeFile(estimates);
        WholeFile alertsFile = alerts == null ? null : new WholeFile(alerts);
        LogReader reader = new LogReader(log, map);
        Progress progress =
            new Progress(
                spec.commandLine().getErr(),
                Progress.terminal(),
                "reading",
                (double) Files.size(log))) {
      Replay replay =
          new Replay(
              profile,
              estimatesFile == null ? null : new EstimatesCsv(estimatesFile.writer()),
              alertsFile == null ? null : new AlertsCsv(alertsFile.writer()));
      replay.run(reader, progress);
      if (estimatesFile != null) {
        estimatesFile.commit();
      }
      if (alertsFile != null) {
        alertsFile.commit();
      }
      new ReplayText(spec.commandLine().getOut(), Ansi.AUTO, replay)
          .print(log.getFileName().toString(), reader.cutLines());
    }
    return CommandLine.ExitCode.OK;
  }
}
