package org.solarmargin.cli.compare;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.ExitStatus;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.cli.tune.rule.VoltageBaseline;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin compare}. */
@Command(
    name = "compare",
    mixinStandardHelpOptions = true,
    description =
        "Replays the same flights under two profiles and compares their alerts side by side.",
    footerHeading = "%nExample:%n",
    footer = "  margin compare stilt.properties tuned.properties flights/")
public final class CompareCommand implements Callable<Integer> {

  private static final List<String> SIDES = List.of("A", "B");

  @Spec private CommandSpec spec;

  @Parameters(index = "0", paramLabel = "PROFILE", description = "craft profile A")
  private Path first;

  @Parameters(index = "1", paramLabel = "PROFILE", description = "craft profile B")
  private Path second;

  @Parameters(
      index = "2..*",
      arity = "1..*",
      paramLabel = "LOG",
      description = "flight logs, CSV, or folders of them")
  private List<Path> inputs;

  @Mixin private ColumnOption columns;

  /** A command with no options yet; picocli fills them in. */
  public CompareCommand() {}

  @Override
  public Integer call() throws IOException {
    List<CraftProfile> profiles = List.of(Inputs.profile(first), Inputs.profile(second));
    List<ColumnMap> maps = profiles.stream().map(p -> columns.read(spec, p)).toList();
    Lines out = new Lines(spec.commandLine().getOut());
    out.line("A  %s", first);
    out.line("B  %s", second);
    out.rule();
    out.line("%-26s %-3s %22s %8s %8s", "flight", "", "WARNING/CAUTION/ADVIS.", "warn s", "");
    AlertCount[] totals = {new AlertCount(), new AlertCount()};
    VoltageBaseline voltage = new VoltageBaseline(profiles.get(0));
    List<String> faults = new ArrayList<>();
    for (Path log : LogFiles.of(inputs)) {
      AlertCount[] counts = count(log, profiles, maps, out, faults);
      if (counts[0].unusable().or(counts[1]::unusable).isEmpty()) {
        totals[0].add(counts[0]);
        totals[1].add(counts[1]);
        counts[0].addTo(voltage);
      }
      out.flush();
    }
    out.blank();
    for (int i = 0; i < 2; i++) {
      row(out, i == 0 ? "all" : "", i, totals[i], totals[i].total());
    }
    voltageRow(out, voltage);
    explain(out);
    out.flush();
    faults.forEach(spec.commandLine().getErr()::println);
    return faults.isEmpty() ? CommandLine.ExitCode.OK : ExitStatus.UNUSABLE_INPUT;
  }

  /** Replays one flight under both profiles and prints a row for each. */
  private static AlertCount[] count(
      Path log, List<CraftProfile> profiles, List<ColumnMap> maps, Lines out, List<String> faults)
      throws IOException {
    String name = cut(log.getFileName().toString());
    AlertCount[] counts = new AlertCount[SIDES.size()];
    for (int i = 0; i < counts.length; i++) {
      AlertCount one = AlertCount.of(profiles.get(i), log, maps.get(i));
      String side = SIDES.get(i);
      String leads = one.unusable().isPresent() ? "not usable, left out" : one.leads();
      row(out, i == 0 ? name : "", i, one, leads);
      one.unusable()
          .ifPresent(fault -> faults.add("under " + side + ": " + fault.line(log.toString())));
      counts[i] = one;
    }
    return counts;
  }

  private static void row(Lines out, String name, int side, AlertCount count, String leads) {
    out.line(
        "%-26s %-3s %22s %8.1f  %s",
        name, SIDES.get(side), count.raises(), count.warningSeconds(), leads);
  }

  private static void voltageRow(Lines out, VoltageBaseline voltage) {
    voltage
        .best()
        .ifPresent(
            best ->
                out.line(
                    "%-26s %-3s %22s %8s  %s",
                    String.format(Locale.ROOT, "fixed voltage, %.1f V", best.volts()),
                    "V",
                    best.raises() + " / - / -",
                    "",
                    best.leads()));
  }

  private static void explain(Lines out) {
    out.blank();
    out.text("Alerts raised by level, time under WARNING, and for how long WARNING preceded");
    out.text("each event. V: the best fixed bus-voltage alarm, chosen with hindsight on these");
    out.text("flights, with A's delays for WARNING and no more nuisance alerts than A's");
    out.text("WARNING.");
    out.text("Advisory only, not certified. Keep a landing option at all times.");
  }

  private static String cut(String name) {
    return name.length() <= 26 ? name : name.substring(0, 25) + "~";
  }
}
