package org.solarmargin.cli.check;

import java.io.IOException;
import java.io.StringReader;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;
import java.util.Set;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.ProfileEdit;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.ExitStatus;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.cli.playback.LogPlayer;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Unusable;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesFile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin check}. */
@Command(
    name = "check",
    mixinStandardHelpOptions = true,
    description = {
      "Reports what a profile leaves out, estimates, assumes or contradicts, how to measure it, and"
          + " how much each assumed default widens the interval during a simulated minute of that"
          + " craft in hover.",
      "",
      "With logs, it also reports whether they can come from that craft."
    },
    footerHeading = "%nExample:%n",
    footer = "  margin check stilt.properties flights/")
public final class CheckCommand implements Callable<Integer> {

  private static final int WIDTH = 78;
  private static final String INDENT = "    ";

  @Spec private CommandSpec spec;

  @Parameters(index = "0", paramLabel = "PROFILE", description = "craft profile, .properties")
  private Path file;

  @Parameters(
      index = "1..*",
      arity = "0..*",
      paramLabel = "LOG",
      description = "flight logs, or folders of them")
  private List<Path> logs = new ArrayList<>();

  @Mixin private ColumnOption columns;

  /** A command with no options yet; picocli fills them in. */
  public CheckCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = Inputs.profile(file);
    ColumnMap map = columns.read(spec, profile);
    Lines out = new Lines(spec.commandLine().getOut());
    out.line("%s, craft %s", file, profile.name());
    out.rule();
    CraftCautions.of(profile).forEach(caution -> wrapped(out, caution));
    out.blank();
    List<String> text = PropertiesFile.read(file).lines().toList();
    unmeasured(profile, text, out);
    guesses(profile, text, out);
    boolean usable = true;
    for (Path log : logs.isEmpty() ? List.<Path>of() : LogFiles.of(logs)) {
      usable &= check(log, profile, map, out);
    }
    out.text("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
    return usable ? CommandLine.ExitCode.OK : ExitStatus.UNUSABLE_INPUT;
  }

  private static void wrapped(Lines out, String text) {
    Wrapped.lines(text, WIDTH).forEach(out::text);
  }

  private static void unmeasured(CraftProfile profile, List<String> text, Lines out) {
    List<Unmeasured> all = Unmeasured.of(profile, keys(text), text);
    if (all.isEmpty()) {
      out.text("The profile states every value that can be measured.");
    } else {
      out.text("Values that are not measured, and how to measure them:");
    }
    for (Unmeasured one : all) {
      wrapped(out, one.kind() + ": " + one.words());
      Wrapped.lines(one.how(), WIDTH - INDENT.length()).forEach(line -> out.text(INDENT + line));
    }
    out.blank();
  }

  private static Set<String> keys(List<String> text) {
    Properties properties = new Properties();
    try {
      properties.load(new StringReader(String.join("\n", text)));
    } catch (IOException e) {
      throw new UncheckedIOException(e); // a text in memory can be read
    }
    return properties.stringPropertyNames();
  }

  private void guesses(CraftProfile profile, List<String> text, Lines out) throws IOException {
    CalmHover hover = new CalmHover(profile);
    double now = hover.gapPercent(profile);
    Set<String> stated = keys(text);
    List<Guess> open =
        Guess.ALL.stream().filter(g -> !stated.containsAll(g.measured().keySet())).toList();
    out.line("Width of the interval in a calm hover: %.1f %% of the estimate", now);
    if (open.isEmpty()) {
      out.text("The profile states every value that affects the width.");
      out.blank();
      return;
    }
    // the allowance for shadows masks the effect of the other values, so it is evaluated separately
    double even = hover.gapPercent(with(text, Guess.EVEN_LIGHT));
    out.line("%-32s %8s %9s  %s", "default in use", "measured", "saves", "how to measure");
    for (Guess guess : open) {
      Map<String, String> values = new LinkedHashMap<>(Guess.EVEN_LIGHT);
      values.putAll(guess.measured());
      boolean shadow = guess.measured().keySet().equals(Guess.EVEN_LIGHT.keySet());
      double saved = (shadow ? now : even) - hover.gapPercent(with(text, values));
      out.line(
          "%-32s %8s %6.1f pt  %s",
          guess.keys(),
          String.join(", ", guess.measured().values()),
          Math.max(saved, 0),
          guess.how());
    }
    out.text("pt: percentage points of that width.");
    out.blank();
  }

  private CraftProfile with(List<String> text, Map<String, String> values) throws IOException {
    StringWriter changed = new StringWriter();
    ProfileEdit.write(text, values, "as measured", changed);
    return CraftProfile.parse(file.toString(), changed.toString());
  }

  /** Whether a log can come from that craft. */
  private static boolean check(Path log, CraftProfile profile, ColumnMap map, Lines out)
      throws IOException {
    LogTiming timing = LogTiming.of(profile, log, map);
    LogPlayer player = new LogPlayer(timing.profile(), (t, l, r, w, m, z) -> {});
    try (LogReader reader = new LogReader(log, map);
        Progress none = Progress.none()) {
      player.play(reader, none, (seconds, verdict) -> {});
      Optional<Unusable> unusable = player.unusable();
      out.line("%s", log);
      reader.notes().forEach(note -> wrapped(out, "  Columns: " + note));
      reader.faults().forEach(fault -> wrapped(out, "  Lines: " + fault));
      unusable.ifPresent(fault -> wrapped(out, "  NOT USABLE: " + fault.headline()));
      List<Finding> findings = player.findings();
      findings.forEach(finding -> wrapped(out, "  Check: " + finding.line()));
      if (!timing.line().isEmpty()) {
        wrapped(out, "  Timing: " + timing.line());
      }
      if (unusable.isEmpty() && findings.isEmpty()) {
        out.text("  Nothing contradicts this craft.");
      }
      out.blank();
      return unusable.isEmpty();
    }
  }
}
