package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.format.DateTimeFormatter;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.cli.text.Lines;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;

/** An outlook for people, 80 columns. */
final class OutlookText {

  private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
  private static final int ROWS = 30;
  private static final int BAR = 20;

  private final Lines out;

  OutlookText(Lines out) {
    this.out = out;
  }

  void day(List<Moment> moments, Duration step) {
    if (moments.isEmpty()) {
      out.text("No light on the array on that day: polar night.");
      return;
    }
    out.line(
        "%5s %7s %6s %8s %8s %7s %7s %6s %5s",
        "time", "light", "cells", "gives", "at least", "hover", "margin", "lift", "thr.");
    out.line(
        "%5s %7s %6s %8s %8s %7s %7s %6s %5s", "", "W/m2", "C", "W", "W", "W", "%", "%", "max");
    double most = moments.stream().mapToDouble(Moment::availableWatts).max().orElse(1);
    int every = Math.max(1, (moments.size() + ROWS - 1) / ROWS);
    for (int i = 0; i < moments.size(); i += every) {
      Moment m = moments.get(i);
      int bar = (int) Math.round(BAR * Math.max(m.lowWatts() - m.demandWatts(), 0) / most);
      out.line(
          "%5s %7.0f %6.0f %8.1f %8.1f %7.1f %+7.0f %+6.0f %5.2f %s",
          CLOCK.format(m.time()),
          1000 * m.suns(),
          m.cellCelsius(),
          m.availableWatts(),
          m.lowWatts(),
          m.demandWatts(),
          m.marginPercent(),
          m.liftPercent(),
          m.ceiling(),
          "#".repeat(bar));
    }
    out.blank();
    out.line("# is what the lower bound leaves over hover. Steps of %d minutes.", step.toMinutes());
    out.blank();
  }

  void windows(List<Moment> moments, AlertRules rules, Duration step) {
    window("any margin at all", moments, 0, step);
    for (AlertLevel level : List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY)) {
      double least = rules.of(level).marginPercent();
      window(String.format(Locale.ROOT, "no %s (%.3g %%)", level, least), moments, least, step);
    }
  }

  private void window(String name, List<Moment> moments, double least, Duration step) {
    Optional<Window> window = Window.longest(moments, least, step);
    out.line(
        "%-24s %s",
        name,
        window
            .map(
                w ->
                    String.format(
                        Locale.ROOT,
                        "%s to %s  (%d h %02d min)",
                        CLOCK.format(w.from()),
                        CLOCK.format(w.to()),
                        w.length().toHours(),
                        w.length().toMinutesPart()))
            .orElse("never on that day"));
  }

  void best(List<Moment> moments, DayOutlook outlook) {
    Optional<Moment> best = moments.stream().max(Comparator.comparingDouble(Moment::lowPercent));
    if (best.isEmpty()) {
      return;
    }
    Moment m = best.get();
    out.line(
        "Best at %s: margin %+.0f %%, at least %+.0f %%; clouds may take %.0f %% of the light there",
        CLOCK.format(m.time()), m.marginPercent(), m.lowPercent(), 100 * outlook.bearableCloud(m));
  }

  void restsOn(DayOutlook outlook, Weather weather) {
    out.blank();
    out.text(
        "Rests on: sun by NREL/TP-560-34302; clear sky by Haurwitz (1945), sea level and clean");
    out.line(
        "air, less %.0f %% of haze; cells at the profile's rise over %.0f to %.0f C of air; ISA; hover",
        100 * weather.haze(), weather.coolest(), weather.warmest());
    out.line(
        "point of the profile by momentum theory%s.",
        outlook.hover().knowsDiscs()
            ? ""
            : " (no relief by wind: mass or rotor.diameter_m missing)");
    out.text(
        "A clear sky is the upper limit: clouds and haze only take away. The decision to fly is");
    out.text("the flyer's, and local rules come first. Advisory only, not certified.");
  }

  void change(String words, List<Moment> moments, AlertRules rules, Duration step) {
    double best = moments.stream().mapToDouble(Moment::marginPercent).max().orElse(Double.NaN);
    Optional<Window> window = Window.longest(moments, rules.warning().marginPercent(), step);
    out.line(
        "%-46s %+8.1f %%   %s",
        words,
        best,
        window
            .map(w -> w.length().toHours() + " h " + w.length().toMinutesPart() + " min")
            .orElse("none"));
  }
}
