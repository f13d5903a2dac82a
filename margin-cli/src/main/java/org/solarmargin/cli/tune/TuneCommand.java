package org.solarmargin.cli.tune;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.atomic.AtomicBoolean;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.flightevent.LossMarks;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.ExitStatus;
import org.solarmargin.cli.option.Interrupt;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.cli.tune.rule.EventEdits;
import org.solarmargin.cli.tune.rule.Evidence;
import org.solarmargin.cli.tune.rule.LevelAim;
import org.solarmargin.cli.tune.rule.Recommendation;
import org.solarmargin.cli.tune.rule.Score;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.cli.tune.rule.WrongEdit;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin tune}. */
@Command(
    name = "tune",
    mixinStandardHelpOptions = true,
    description = {
      "Evaluates thousands of alert rules on logged flights: missed events, lead times and nuisance"
          + " alerts per hour of each. It then recommends rules.",
      "",
      "Events are losses found in the logs, the pilot's marks (event column), those given with"
          + " --event, and, with --truth, those of the truth. If there are few events, simulated"
          + " flights of the same craft are added."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin tune flights/ --craft stilt.properties --out tuned.properties",
      "  margin tune flights/ --craft stilt.properties --check",
    })
public final class TuneCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(
      paramLabel = "LOG",
      arity = "1..*",
      description = "flight logs, CSV, or folders of them")
  private List<Path> inputs;

  @Mixin private CraftOption craft;

  @Mixin private ColumnOption columns;

  @Option(
      names = "--lead",
      defaultValue = "5",
      paramLabel = "SECONDS",
      description =
          "required lead time of WARNING before an event; twice as long for CAUTION, four times for"
              + " ADVISORY (default: ${DEFAULT-VALUE})")
  private double lead;

  @Option(
      names = "--nuisance",
      defaultValue = "1",
      paramLabel = "PER_HOUR",
      description =
          "acceptable nuisance WARNINGs per hour; four times as many for CAUTION, six times for"
              + " ADVISORY (default: ${DEFAULT-VALUE})")
  private double nuisance;

  @Option(
      names = "--event",
      paramLabel = "[LOG@]TIME",
      description =
          "an additional event, seconds in the log; may be repeated. In the log, an event field"
              + " denotes an event if its first word is one of: "
              + LossMarks.WORDS
              + "; other marks are only listed")
  private List<String> added = new ArrayList<>();

  @Option(
      names = "--strike",
      paramLabel = "[LOG@]TIME",
      description = "remove an event that was found by mistake; may be repeated")
  private List<String> struck = new ArrayList<>();

  @Option(
      names = "--truth",
      paramLabel = "FOLDER",
      description =
          "for simulated logs: folder with truth files of the same names, which then define the"
              + " events")
  private Path truth;

  @Option(
      names = "--out",
      paramLabel = "PROFILE",
      description = "write the profile with the recommended rules")
  private OutputFile tuned;

  @Option(
      names = "--partial",
      description = "accept --out even if the work was stopped before all logs were used")
  private boolean partialOut;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write frontier, events and nuisances as one HTML page")
  private OutputFile page;

  @Option(
      names = "--check",
      description = {
        "evaluate the present rules only, for builds: exit with status 4 if an event was missed or"
            + " the nuisances exceed --nuisance"
      })
  private boolean check;

  @Option(
      names = "--threads",
      paramLabel = "N",
      description = "number of logs read in parallel (default: all processors)")
  private Integer threads;

  /** A command with no options yet; picocli fills them in. */
  public TuneCommand() {}

  @Override
  public Integer call() throws IOException, InterruptedException {
    if (!(lead >= 0 && lead <= 600) || !(nuisance >= 0 && nuisance <= 10_000)) {
      throw usage(
          "--lead must be in [0, 600] s and --nuisance in [0, 10000]: " + lead + ", " + nuisance);
    }
    int width = threads == null ? Runtime.getRuntime().availableProcessors() : threads;
    if (width < 1 || width > 1024) {
      throw usage("--threads must be in [1, 1024]: " + width);
    }
    try {
      return tune(new EventEdits(added, struck), width);
    } catch (WrongEdit e) {
      spec.commandLine().getErr().println(e.getMessage());
      return CommandLine.ExitCode.USAGE;
    }
  }

  private int tune(EventEdits edits, int width) throws IOException, InterruptedException {
    CraftProfile profile = craft.read();
    ColumnMap map = columns.read(spec, profile);
    List<Path> logs = LogFiles.of(inputs);
    edits.requireLogs(logs.stream().map(log -> log.getFileName().toString()).toList());
    Tuner tuner = new Tuner(profile, lead, nuisance);
    FlightPass pass = new FlightPass(profile, map, edits, truth);
    AtomicBoolean stop = new AtomicBoolean();
    try (Interrupt interrupt = new Interrupt(() -> stop.set(true))) {
      int done = collect(tuner, pass, profile, logs, width, stop);
      if (!stop.get()) {
        edits.requireUsed();
      }
      PrintWriter out = spec.commandLine().getOut();
      Partial partial = Partial.of(stop.get(), done, logs.size(), "logs");
      partial.print(out);
      int status = check ? check(tuner, out) : recommend(tuner, profile, logs, partial, out);
      out.flush();
      interrupt.done();
      return status;
    }
  }

  private int collect(
      Tuner tuner,
      FlightPass pass,
      CraftProfile profile,
      List<Path> logs,
      int width,
      AtomicBoolean stop)
      throws InterruptedException {
    PrintWriter err = spec.commandLine().getErr();
    int total = logs.size() + (check ? 0 : SimulatedFlights.count());
    try (Progress progress = new Progress(err, Progress.terminal(), "evaluating", total);
        FlightCollector collector = new FlightCollector(tuner, width, stop, progress)) {
      List<String> leftOut = new ArrayList<>();
      int done = collector.logs(logs, pass, leftOut);
      leftOut.forEach(fault -> err.println("left out: " + fault));
      if (tuner.flights().isEmpty() && !stop.get()) {
        throw new InputFault("no log could be used: see the lines above");
      }
      if (!check && tuner.fewEvents()) {
        collector.simulated(profile);
      }
      if (stop.get()) {
        progress.keep();
      }
      return done;
    }
  }

  private ParameterException usage(String message) {
    return new ParameterException(spec.commandLine(), message);
  }

  private int check(Tuner tuner, PrintWriter out) {
    Evidence evidence = tuner.evidence(LevelAim.WARNING);
    Score score = evidence.score(Evidence.PRESENT);
    boolean fails = score.missed() > 0 || score.nuisancesPerHour() > evidence.nuisanceLimit();
    out.println(
        String.format(
            java.util.Locale.ROOT,
            "%s: WARNING missed %d of %d events, %d later than %.0f s, %.2f nuisances per hour"
                + " (limit %.2f) on %d flights, %.2f h",
            fails ? "FAILED" : "passed",
            score.missed(),
            score.events(),
            score.late(),
            evidence.requiredLead(),
            score.nuisancesPerHour(),
            evidence.nuisanceLimit(),
            evidence.flights().size(),
            score.hours()));
    return fails ? ExitStatus.CHECK_FAILED : CommandLine.ExitCode.OK;
  }

  private int recommend(
      Tuner tuner, CraftProfile profile, List<Path> logs, Partial partial, PrintWriter out)
      throws IOException {
    if (tuner.flights().isEmpty()) {
      return CommandLine.ExitCode.OK;
    }
    Recommendation recommendation = tuner.recommend();
    new TuneText(out, tuner, recommendation).print(profile.name());
    if (page != null) {
      AtomicFile.write(
          page.path(),
          file ->
              new TunePage(tuner, recommendation, profile.name(), logs, partial)
                  .write(file.writer()));
    }
    if (tuned != null && partial.stopped() && !partialOut) {
      out.println("profile  not written: " + partial.words() + " (use --partial to write it)");
    } else if (tuned != null) {
      AtomicFile.write(
          tuned.path(),
          file ->
              ProfileRewrite.write(craft.file(), recommendation.rules(), partial, file.writer()));
      out.println("profile  " + tuned);
    }
    return CommandLine.ExitCode.OK;
  }
}
