package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.TouchVoltage;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.init.OptionFaults;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.PropertiesException;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code margin size}. */
@Command(
    name = "size",
    mixinStandardHelpOptions = true,
    description = {
      "Finds the fewest cells with which a craft hovers with a reserve at a place, at the best hour"
          + " of a clear day. The mass of additional cells is taken into account.",
      "",
      "A clear sky is the upper limit: clouds and haze only reduce the light. Advisory only, not"
          + " certified."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin size --mass-kg 1.05 --rotors 4 --diameter-m 0.5588 --isc 6.02 \\",
      "      --voc 0.683 --imp 5.70 --vmp 0.574 --at 53.7,7.7 --date 2026-06-21 \\",
      "      --out first.properties"
    })
public final class SizeCommand implements Callable<Integer> {

  private static final int WIDTH = 78;

  private static final String BASIS =
      "Basis: single-diode model of the cells from their data sheet (De Soto 2006), at the"
          + " temperature of the best hour; sun position by NREL/TP-560-34302; clear sky by"
          + " Haurwitz (1945) for sea level and clean air, 15 % of it diffuse (common practice, no"
          + " source); hover by momentum theory with the figure of merit above, ISA density."
          + " Reserve: by how much the lower bound (95 %, for a clear sky) exceeds hover power.";

  @Spec private CommandSpec spec;

  @Mixin private SizeOptions options;

  @Mixin private SiteOptions site;

  @Option(names = "--date", required = true, paramLabel = "YYYY-MM-DD", description = "the day")
  private String date;

  @Option(
      names = "--out",
      paramLabel = "PROFILE",
      description = "write a first craft profile with the result, .properties")
  private OutputFile profile;

  /** A command with no options yet; picocli fills them in. */
  public SizeCommand() {}

  @Override
  public Integer call() throws IOException {
    Lines out = new Lines(spec.commandLine().getOut());
    try {
      options.check();
      SizeSearch search = new SizeSearch(options, site, DateOption.day(date));
      List<SizedCraft> all = search.withinLimits();
      Optional<SizedCraft> chosen =
          all.stream()
              .filter(c -> c.lowPercent() >= options.reserve())
              .min(Comparator.comparingInt(SizedCraft::cells));
      print(out, search, all, chosen);
      if (profile != null && chosen.isPresent()) {
        String text = chosen.get().profileText().text();
        AtomicFile.write(profile.path(), file -> file.writer().write(text));
        out.line("profile  %s", profile);
      }
    } catch (PropertiesException e) {
      throw new ParameterException(spec.commandLine(), OptionFaults.words(e, ""), e);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void print(
      Lines out, SizeSearch search, List<SizedCraft> all, Optional<SizedCraft> chosen) {
    out.line(
        "Fewest cells with a reserve of %.0f %% at the best hour of a clear %s",
        options.reserve(), date);
    out.rule();
    out.line(
        "%7s %7s %6s %8s %8s %9s %9s %8s",
        "strings", "series", "cells", "mass kg", "bus V", "hover W", "at least", "reserve");
    SizedCraft most =
        all.stream().max(Comparator.comparingDouble(SizedCraft::lowPercent)).orElseThrow();
    List<SizedCraft> shown = new ArrayList<>();
    chosen.ifPresent(
        c ->
            all.stream()
                .filter(o -> o.strings() == c.strings() && Math.abs(o.series() - c.series()) <= 6)
                .filter(o -> (o.series() - c.series()) % 2 == 0)
                .forEach(shown::add));
    if (!shown.contains(most)) {
      shown.add(most);
    }
    for (SizedCraft c : shown) {
      out.line(
          "%7d %7d %6d %8.2f %8s %9.1f %9.1f %+7.0f %% %s",
          c.strings(),
          c.series(),
          c.cells(),
          c.kilograms(),
          c.lifts() ? String.format(Locale.ROOT, "%.1f", c.busVolts()) : "-",
          c.hoverWatts(),
          c.lowWatts(),
          c.lowPercent(),
          chosen.filter(c::equals).isPresent() ? "<- fewest" : c.equals(most) ? "<- most" : "");
    }
    out.blank();
    int largest = all.stream().mapToInt(SizedCraft::cells).max().orElseThrow();
    if (chosen.isEmpty()) {
      wrapped(out, new SizeShortfall(options, all, most, search.withoutLimits()).paragraphs());
    } else if (most.cells() < largest) {
      wrapped(
          out,
          List.of(
              "More than "
                  + cells(most.cells())
                  + " gain nothing: they add more weight than lift."));
    } else {
      wrapped(
          out,
          List.of(
              "More than " + cells(largest) + " exceed the limits (" + options.limits() + ")."));
    }
    out.blank();
    explain(out, most, chosen);
  }

  /** A number of cells in words. */
  static String cells(int count) {
    return count == 1 ? "1 cell" : count + " cells";
  }

  private static void wrapped(Lines out, List<String> paragraphs) {
    paragraphs.stream().map(p -> Wrapped.lines(p, WIDTH)).flatMap(List::stream).forEach(out::text);
  }

  private void explain(Lines out, SizedCraft most, Optional<SizedCraft> chosen) {
    chosen.ifPresent(c -> c.figures().forEach(out::text));
    options.assumptions().forEach(line -> out.line("assumed  %s", line));
    Weather weather = site.weather(most.profile());
    out.line(
        "assumed  air %s (--air-c), haze %.0f %% (--haze), array %s (--tilt)",
        weather.words(), 100 * weather.haze(), site.attitude().words());
    out.line(
        "assumed  cells %.0f K above the air in full sun: edit thermal.sun_rise_c in the profile",
        most.profile().settings().thermal().sunRiseKelvin());
    out.blank();
    new OutlookText(out).wrapped(BASIS);
    out.text("A clear sky is the upper limit: clouds and haze only reduce the light. The");
    out.text("pilot decides whether to fly, and local rules come first. Advisory only, not");
    out.text("certified.");
    if (chosen.isPresent() && chosen.get().openCircuitVolts() >= TouchVoltage.SHOCK) {
      out.line(
          "Caution: electric shock. %.0f V DC can kill: in light, touch no bare conductor.",
          chosen.get().openCircuitVolts());
    }
    out.text(String.format(Locale.ROOT, "An array cannot be switched off in light: cover it."));
  }
}
