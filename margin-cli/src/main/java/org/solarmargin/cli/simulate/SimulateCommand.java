package org.solarmargin.cli.simulate;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.LogStart;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.limiter.ThrottleLimiter;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSample;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.scenario.SkySpec;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin simulate}. */
@Command(
    name = "simulate",
    mixinStandardHelpOptions = true,
    description = {
      "Flies one scenario in the simulator, and writes the log that the craft would have recorded"
          + " and the truth.",
      "",
      "The same scenario, profile and seed give the same files on every machine."
    })
public final class SimulateCommand implements Callable<Integer> {

  private static final int PROGRESS_EVERY = 20_000;

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SCENARIO", description = "scenario, .properties")
  private Path scenarioFile;

  @Mixin private CraftOption craft;

  @Option(
      names = "--log",
      required = true,
      paramLabel = "FILE",
      description = "where to write the flight log, CSV")
  private OutputFile log;

  @Option(
      names = "--truth",
      required = true,
      paramLabel = "FILE",
      description = "where to write the truth, CSV")
  private OutputFile truth;

  @Option(
      names = "--seed",
      defaultValue = "1",
      paramLabel = "N",
      description = "seed of all randomness (default: ${DEFAULT-VALUE})")
  private long seed;

  /** A command with no options yet; picocli fills them in. */
  public SimulateCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    Scenario scenario = Inputs.scenario(scenarioFile, profile);
    Inputs.refuseOverRecording(spec, scenario);
    SetupMaker maker = Inputs.maker(scenarioFile, scenario, profile);
    Flight flight = new Flight(maker.asStated(seed), seed);
    MarginMonitor monitor =
        new MarginMonitor(profile.settings(), profile.rules(), (t, l, r, why, m, z) -> {});
    ThrottleLimiter limiter = new ThrottleLimiter();
    int[] lines = {0};
    try (AtomicFile logFile = new AtomicFile(log.path());
        AtomicFile truthFile = new AtomicFile(truth.path());
        Progress progress =
            new Progress(
                spec.commandLine().getErr(),
                Progress.terminal(),
                "flying",
                scenario.plan().seconds())) {
      FlightCsv csv = new FlightCsv(logFile.writer(), start(scenario), truthFile.writer());
      flight.fly(
          sample -> {
            if (sample.missing) {
              return limiter.last();
            }
            csv.write(sample);
            lines[0]++;
            if (lines[0] % PROGRESS_EVERY == 0) {
              progress.step(sample.seconds);
            }
            return scenario.limiter() ? cap(monitor, limiter, sample) : 1;
          });
      logFile.commit();
      truthFile.commit();
    }
    PrintWriter out = spec.commandLine().getOut();
    out.println(
        String.format(
            Locale.ROOT,
            "%s: %.1f s, %d samples, seed %d",
            scenario.title(),
            scenario.plan().seconds(),
            lines[0],
            seed));
    maker.assumption().ifPresent(out::println);
    out.println("log    " + log);
    out.println("truth  " + truth);
    out.flush();
    return ExitCode.OK;
  }

  /** The comment with the start time, for a sky of a day. */
  private static String start(Scenario scenario) {
    return scenario.sky().kind() == SkySpec.Kind.DAY
        ? LogStart.comment(LogStart.instant(scenario.sky().day().start()))
        : "";
  }

  private static double cap(MarginMonitor monitor, ThrottleLimiter limiter, FlightSample sample) {
    monitor.update(
        Math.round(sample.seconds * 1e9), sample.busVolts, sample.busAmps, sample.throttle);
    return limiter.cap(monitor.reading(), monitor.airborne());
  }
}
