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
    description = "The same flights under two profiles and their alert rules, side by side.",
    footerHeading = "%nExample:%n",
    footer = "  margin compare stilt.properties tuned.properties flights/")
public final class CompareCommand implements Callable<Integer> {

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
      String name = log.getFileName().toString();
      AlertCount[] counts = new AlertCount[2];
      for (int i = 0; i < 2; i++) {
        counts[i] = AlertCount.of(profiles.get(i), log, maps.get(i));
        String side = i == 0 ? "A" : "B";
        out.line(
            "%-26s %-3s %22s %8.1f  %s",
            i == 0 ? cut(name) : "",
            side,
            counts[i].raises(),
            counts[i].warningSeconds(),
            counts[i].unusable().isPresent() ? "not usable, left out" : counts[i].leads());
        counts[i]
            .unusable()
            .ifPresent(fault -> faults.add("under " + side + ": " + fault.line(log.toString())));
      }
      if (counts[0].unusable().or(counts[1]::unusable).isEmpty()) {
        totals[0].add(counts[0]);
        totals[1].add(counts[1]);
        counts[0].addTo(voltage);
      }
      out.flush();
    }
    out.blank();
    for (int i = 0; i < 2; i++) {
      out.line(
          "%-26s %-3s %22s %8.1f  %s",
          i == 0 ? "all" : "",
          i == 0 ? "A" : "B",
          totals[i].raises(),
          totals[i].warningSeconds(),
          totals[i].total());
    }
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
    out.blank();
    out.text("Raises by level, time under WARNING, and how long WARNING stood before each event.");
    out.text(
        "V: the best alarm at a fixed bus voltage, chosen with hindsight on these flights, with");
    out.text("A's delays of WARNING and no more nuisances than A's WARNING had.");
    out.text("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
    faults.forEach(spec.commandLine().getErr()::println);
    return faults.isEmpty() ? CommandLine.ExitCode.OK : ExitStatus.UNUSABLE_INPUT;
  }

  private static String cut(String name) {
    return name.length() <= 26 ? name : name.substring(0, 25) + "~";
  }
}
