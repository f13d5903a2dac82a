package org.solarmargin.cli.replay;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.log.TruthReader;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.ExitStatus;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Unusable;
import org.solarmargin.cli.report.FlightTrace;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Help.Ansi;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin replay}. */
@Command(
    name = "replay",
    mixinStandardHelpOptions = true,
    description = {
      "Replays a flight log and reports how small the margin became, when alerts would have been"
          + " raised, and how reliable the estimate is.",
      "",
      "The log is CSV with a header: time_s, bus_v, bus_a, throttle (0 to 1), and optionally"
          + " cell_c, height_m, event. ULog and recorded MAVLink are read too. For other names and"
          + " units use --column."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin replay flight.csv --craft stilt.properties",
      "  margin replay flight.csv --craft stilt.properties --estimates margin.csv",
      "  margin replay onboard.csv --craft stilt.properties \\",
      "      --column bus_v=voltage:mV --column bus_a=current:mA \\",
      "      --column throttle=motor:us"
    })
public final class ReplayCommand implements Callable<Integer> {

  private static final double LEAST_IRRADIANCE = 10;
  private static final double MOST_IRRADIANCE = 2000;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "LOG", description = "flight log")
  private Path log;

  @Mixin private CraftOption craft;

  @Option(
      names = "--irradiance",
      paramLabel = "W_M2",
      description =
          "irradiance measured on the array during a slow throttle ramp, W/m2; shows whether the"
              + " array delivers its rated output")
  private double irradiance = Double.NaN;

  @Option(
      names = "--estimates",
      paramLabel = "FILE",
      description =
          "write available power, margin, ceiling and status for every sample, CSV; demand_w and the"
              + " margins are those of the sample's own readings, steady_demand_w is averaged over"
              + " 0.1 s (as in the text), and the alerts judge alert_margin_pct")
  private OutputFile estimates;

  @Option(
      names = "--alerts",
      paramLabel = "FILE",
      description = "write every alert raised or cleared, CSV")
  private OutputFile alerts;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write the flight as one HTML page that opens without a network")
  private OutputFile page;

  @Option(
      names = "--truth",
      paramLabel = "FILE",
      description = "truth of a simulated flight, drawn and compared in the report, CSV")
  private Path truth;

  @Option(names = "--ascii", description = "draw the chart of the margin in plain ASCII")
  private boolean ascii;

  @Mixin private ColumnOption columns;

  @Option(
      names = "--fail-on",
      paramLabel = "LEVEL",
      description =
          "exit with status 4 if an alert of this level or above was raised: ADVISORY, CAUTION,"
              + " WARNING")
  private String failOn;

  /** A command with no options yet; picocli fills them in. */
  public ReplayCommand() {}

  @Override
  public Integer call() throws IOException {
    AlertLevel limit = limit();
    if (irradiance < LEAST_IRRADIANCE || irradiance > MOST_IRRADIANCE) {
      throw new ParameterException(
          spec.commandLine(), "--irradiance must be in [10, 2000] W/m2: " + irradiance);
    }
    CraftProfile profile = craft.read();
    ColumnMap map = columns.read(spec, profile);
    LogTiming timing = LogTiming.of(profile, log, map);
    FlightTrace trace = page == null ? null : new FlightTrace();
    try (AtomicFile estimatesFile = estimates == null ? null : new AtomicFile(estimates.path());
        AtomicFile alertsFile = alerts == null ? null : new AtomicFile(alerts.path());
        TruthReader truthReader =
            truth == null ? null : new TruthReader(truth, List.of("available_w"));
        LogReader reader = new LogReader(log, map);
        Progress progress =
            new Progress(
                spec.commandLine().getErr(),
                Progress.terminal(),
                "reading",
                (double) Files.size(log))) {
      Replay replay =
          new Replay(
              timing,
              irradiance,
              estimatesFile == null ? null : new EstimatesCsv(estimatesFile.writer()),
              alertsFile == null ? null : new AlertsCsv(alertsFile.writer()),
              trace,
              truthReader);
      Conclusion conclusion = new Conclusion(replay);
      String name = log.getFileName().toString();
      replay.run(reader, progress);
      if (estimatesFile != null) {
        estimatesFile.commit();
      }
      if (alertsFile != null) {
        alertsFile.commit();
      }
      if (page != null) {
        writePage(replay, trace, conclusion, name, reader.faults());
      }
      new ReplayText(spec.commandLine().getOut(), Ansi.AUTO, replay, conclusion, ascii)
          .print(name, reader.notes(), reader.faults());
      Optional<Unusable> unusable = replay.unusable();
      if (unusable.isPresent()) {
        throw new InputFault(
            unusable.get().line(log.toString()) + (page == null ? "" : "; see " + page));
      }
      if (limit != null && replay.shares().flightSeconds() == 0) {
        throw new InputFault(log + ": no flight in this log, so --fail-on cannot be judged");
      }
      return limit != null && replay.highest().compareTo(limit) >= 0
          ? ExitStatus.CHECK_FAILED
          : CommandLine.ExitCode.OK;
    }
  }

  private void writePage(
      Replay replay, FlightTrace trace, Conclusion conclusion, String name, List<String> faults)
      throws IOException {
    trace.finish();
    AtomicFile.write(
        page.path(),
        file -> new ReplayPage(replay, trace, conclusion).write(name, faults, file.writer()));
  }

  private AlertLevel limit() {
    if (failOn == null) {
      return null;
    }
    for (AlertLevel level : AlertLevel.values()) {
      if (level != AlertLevel.NONE && level.name().equalsIgnoreCase(failOn)) {
        return level;
      }
    }
    throw new CommandLine.ParameterException(
        spec.commandLine(), "--fail-on must be ADVISORY, CAUTION or WARNING: " + failOn);
  }
}
