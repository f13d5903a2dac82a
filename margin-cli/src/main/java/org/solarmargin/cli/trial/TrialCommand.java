package org.solarmargin.cli.trial;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.option.Interrupt;
import org.solarmargin.cli.option.OutputCheck;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.scenario.LoggerDraw;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.trial.Outcome;
import org.solarmargin.sim.trial.TrialRunner;
import picocli.CommandLine.Command;
import picocli.CommandLine.ExitCode;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin trial}. */
@Command(
    name = "trial",
    mixinStandardHelpOptions = true,
    description = {
      "Flies random variations of scenarios, and reports losses, lead times of alerts, nuisance"
          + " alerts and the accuracy of the estimate.",
      "",
      "The result does not depend on the number of threads. Ctrl-C prints the results so far."
    })
public final class TrialCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(
      paramLabel = "SCENARIO",
      arity = "1..*",
      description = "scenarios, .properties, or folders with them")
  private List<Path> inputs;

  @Mixin private CraftOption craft;

  @Option(
      names = "--flights",
      defaultValue = "100",
      paramLabel = "N",
      description = "flights of each scenario (default: ${DEFAULT-VALUE})")
  private int flights;

  @Option(
      names = "--seed",
      defaultValue = "1",
      paramLabel = "N",
      description = "seed of all randomness (default: ${DEFAULT-VALUE})")
  private long seed;

  @Option(
      names = "--limiter",
      defaultValue = "off",
      paramLabel = "on|off|both",
      description = "hold the throttle below the estimated ceiling (default: ${DEFAULT-VALUE})")
  private String limiter;

  @Option(
      names = "--known",
      description =
          "simulate cells and sensors exactly as profile and scenario state them; light, clouds,"
              + " air and mass still vary")
  private boolean known;

  @Option(
      names = "--logger",
      description =
          "draw the timing of the readings at random for each flight, instead of the scenario's:"
              + " filter of volts and amperes 0 to "
              + LoggerDraw.FILTER_SECONDS
              + " s, up to "
              + LoggerDraw.FILTER_DIFFERENCE_SECONDS
              + " s apart; delay of each 0 to "
              + LoggerDraw.DELAY_SECONDS
              + " s; fresh readings at "
              + LoggerDraw.SLOWEST_HERTZ
              + " to "
              + LoggerDraw.FASTEST_HERTZ
              + " Hz, repeated in between; rounding 0 to "
              + LoggerDraw.ROUNDING_STEP
              + " V and A, and 0 to "
              + LoggerDraw.THROTTLE_STEP
              + " of throttle; lag of the command 0 to "
              + LoggerDraw.COMMAND_LAG_SECONDS
              + " s, its delay 0 to "
              + LoggerDraw.COMMAND_DELAY_SECONDS
              + " s")
  private boolean logger;

  @Option(
      names = "--threads",
      paramLabel = "N",
      description = "number of parallel flights (default: all cores)")
  private Integer threads;

  @Option(names = "--out", paramLabel = "FILE", description = "write one line per flight, CSV")
  private OutputFile csv;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write the tables and lead times as one HTML page")
  private OutputFile page;

  /** A command with no options yet; picocli fills them in. */
  public TrialCommand() {}

  @Override
  public Integer call() throws IOException, InterruptedException {
    TrialRunner.Limiter mode = mode();
    int width = threads == null ? Runtime.getRuntime().availableProcessors() : threads;
    if (flights < 1 || width < 1) {
      throw new ParameterException(spec.commandLine(), "--flights and --threads must be 1 or more");
    }
    CraftProfile profile = craft.read();
    List<String> titles = new ArrayList<>();
    List<SetupMaker> makers = new ArrayList<>();
    List<Path> files = LogFiles.scenarios(inputs);
    for (Path file : files) {
      OutputCheck.refuseOver(spec, "one of the scenarios", file);
      Scenario scenario = Inputs.scenario(file, profile);
      Inputs.refuseOverRecording(spec, scenario);
      titles.add(scenario.title());
      makers.add(Inputs.maker(file, flown(scenario), profile));
    }
    TrialRunner runner = new TrialRunner(makers, profile, flights, seed, mode);
    try (Interrupt interrupt = new Interrupt(runner::stop)) {
      PrintWriter out = spec.commandLine().getOut();
      makers.get(0).assumption().ifPresent(out::println);
      List<Outcome> outcomes = fly(runner, width, makers.size() * flights);
      int perFlight = mode == TrialRunner.Limiter.BOTH ? 2 : 1;
      Partial partial =
          Partial.of(false, outcomes.size() / perFlight, makers.size() * flights, "flights");
      print(profile, titles, outcomes, mode, partial);
      writeCsv(files, outcomes, partial);
      writePage(profile, titles, outcomes, partial);
      interrupt.done();
    }
    return ExitCode.OK;
  }

  private String loggers() {
    return logger ? ", loggers drawn" : "";
  }

  private Scenario flown(Scenario stated) {
    Scenario sensed = known ? stated.withKnownCellsAndSensors() : stated;
    return logger ? sensed.withDrawnLogger() : sensed;
  }

  private TrialRunner.Limiter mode() {
    return switch (limiter.toLowerCase(Locale.ROOT)) {
      case "on" -> TrialRunner.Limiter.ON;
      case "off" -> TrialRunner.Limiter.OFF;
      case "both" -> TrialRunner.Limiter.BOTH;
      default ->
          throw new ParameterException(
              spec.commandLine(), "--limiter must be on, off or both: " + limiter);
    };
  }

  private List<Outcome> fly(TrialRunner runner, int width, int total) throws InterruptedException {
    try (Progress progress =
        new Progress(spec.commandLine().getErr(), Progress.terminal(), "flying", total)) {
      List<Outcome> outcomes = runner.run(width, progress::step);
      if (runner.stopped()) {
        progress.keep();
      }
      return outcomes;
    }
  }

  private void print(
      CraftProfile profile,
      List<String> titles,
      List<Outcome> outcomes,
      TrialRunner.Limiter mode,
      Partial partial) {
    PrintWriter out = spec.commandLine().getOut();
    partial.print(out);
    out.println(
        "Craft "
            + profile.name()
            + ", seed "
            + seed
            + ", simulated flights"
            + (known ? ", cells and sensors as stated" : "")
            + loggers());
    out.println();
    TrialText text = new TrialText(out);
    text.print(titles, outcomes);
    text.printVoltage(profile, titles, outcomes);
    if (mode == TrialRunner.Limiter.BOTH) {
      text.printSaved(titles, outcomes);
    }
    out.println();
    out.println("Simulated: model prediction only, advisory and not certified.");
    out.flush();
  }

  private void writePage(
      CraftProfile profile, List<String> titles, List<Outcome> outcomes, Partial partial)
      throws IOException {
    if (page == null) {
      return;
    }
    AtomicFile.write(
        page.path(),
        file ->
            new TrialPage(profile.name(), partial, seed, loggers(), titles, outcomes)
                .write(file.writer()));
  }

  private void writeCsv(List<Path> files, List<Outcome> outcomes, Partial partial)
      throws IOException {
    if (csv == null) {
      return;
    }
    List<String> names = files.stream().map(f -> f.getFileName().toString()).toList();
    AtomicFile.write(
        csv.path(), file -> OutcomesCsv.write(file.writer(), names, outcomes, partial));
  }
}
