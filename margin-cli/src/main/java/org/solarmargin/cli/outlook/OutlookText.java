package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.sim.air.StandardAtmosphere;

/** An outlook as text of 80 columns. */
final class OutlookText {

  static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
  private static final int ROWS = 30;
  private static final int WIDTH = 78;

  private final Lines out;

  OutlookText(Lines out) {
    this.out = out;
  }

  /** Prints a text wrapped to the width of the terminal. */
  void wrapped(String text) {
    Wrapped.lines(text, WIDTH).forEach(out::text);
  }

  void day(List<Moment> moments, AlertRules rules, Duration step, boolean ascii) {
    if (moments.isEmpty()) {
      out.text("No light on the array on that day (polar night).");
      return;
    }
    out.line(
        "%5s %7s %6s %8s %8s %8s %7s %7s %6s %5s",
        "time",
        "light",
        "cells",
        "array",
        "at least",
        "at most",
        "hover",
        "margin",
        "lift",
        "thr.");
    out.line(
        "%5s %7s %6s %8s %8s %8s %7s %7s %6s %5s",
        "", "W/m2", "C", "W", "W", "W", "W", "%", "%", "max");
    int every = Math.max(1, (moments.size() + ROWS - 1) / ROWS);
    for (int i = 0; i < moments.size(); i += every) {
      Moment m = moments.get(i);
      out.line(
          "%5s %7.0f %6.0f %8.1f %8.1f %8.1f %7.1f %+7.0f %+6.0f %5.2f",
          CLOCK.format(m.time()),
          1000 * m.suns(),
          m.cellCelsius(),
          m.availableWatts(),
          m.lowWatts(),
          m.highWatts(),
          m.demandWatts(),
          m.marginPercent(),
          m.liftPercent(),
          m.ceiling());
    }
    out.blank();
    List<String> chart = DayChart.lines(moments, rules, ascii);
    if (!chart.isEmpty()) {
      wrapped(
          String.format(
              Locale.ROOT,
              "Lower bound minus hover power, steps of %d min; W, c, a: below the WARNING, CAUTION,"
                  + " ADVISORY threshold",
              step.toMinutes()));
      chart.forEach(out::text);
      out.blank();
    }
  }

  void printWindows(List<Moment> moments, AlertRules rules, Duration step) {
    windows(moments, rules, step).forEach((name, span) -> out.line("%-24s %s", name, span));
  }

  /** Longest spans by condition. */
  static Map<String, String> windows(List<Moment> moments, AlertRules rules, Duration step) {
    Map<String, String> windows = new LinkedHashMap<>();
    windows.put("any margin at all", span(moments, 0, step));
    for (AlertLevel level : List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY)) {
      double least = rules.of(level).marginPercent();
      windows.put(
          String.format(Locale.ROOT, "no %s (%.3g %%)", level, least), span(moments, least, step));
    }
    return windows;
  }

  private static String span(List<Moment> moments, double least, Duration step) {
    return Window.longest(moments, least, step).map(OutlookText::span).orElse("never on that day");
  }

  /** A window with its length. */
  static String span(Window window) {
    return String.format(
        Locale.ROOT,
        "%s (%d h %02d min)",
        ends(window),
        window.length().toHours(),
        window.length().toMinutesPart());
  }

  /** A window as its start and end. */
  static String ends(Window window) {
    return CLOCK.format(window.from()) + " to " + CLOCK.format(window.to());
  }

  /** The day in one line. */
  static String headline(List<Moment> moments, DayQuestion asked) {
    if (moments.isEmpty()) {
      return "No light on the array on that day (polar night)";
    }
    return asked
        .withoutWarning(moments)
        .map(w -> span(w) + " without WARNING, if the sky is clear")
        .orElse("No time without WARNING, even under a clear sky");
  }

  /** The best moment; nothing in polar night. */
  static List<String> bestSentences(List<Moment> moments, DayOutlook outlook) {
    return Moment.best(moments)
        .map(
            m ->
                List.of(
                    String.format(
                        Locale.ROOT,
                        "Best at %s: margin %+.0f %% (%+.0f to %+.0f), %.0f W (%.0f to %.0f) for a"
                            + " hover of %.0f W.",
                        CLOCK.format(m.time()),
                        m.marginPercent(),
                        m.lowPercent(),
                        100 * (m.highWatts() / m.demandWatts() - 1),
                        m.availableWatts(),
                        m.lowWatts(),
                        m.highWatts(),
                        m.demandWatts()),
                    clouds(outlook.tolerableCloud(m))))
        .orElse(List.of());
  }

  private static String clouds(double share) {
    return share > 0
        ? String.format(
            Locale.ROOT,
            "Clouds may then block %.0f %% of the light before hover becomes impossible.",
            100 * share)
        : "Even then there is too little light to hover.";
  }

  void best(List<Moment> moments, DayOutlook outlook) {
    bestSentences(moments, outlook).forEach(this::wrapped);
  }

  /** The basis of every forecast and its limits. */
  static List<String> basis(DayQuestion asked) {
    HoverDemand hover = asked.outlook().hover();
    return List.of(
        String.format(
            Locale.ROOT,
            "Basis: sun position by NREL/TP-560-34302; clear sky by Haurwitz (1945) for sea level"
                + " and clean air, less %.0f %% for haze, 15 %% of it diffuse (common practice, no"
                + " source); cells warmer than the air (%s) by the profile's rise; ISA; hover point"
                + " of the profile, corrected by momentum theory%s. Bounds: 95 %% each, for a clear"
                + " sky.",
            100 * asked.weather().haze(),
            asked.weather().words(),
            hover.discLoadingKnown()
                ? ""
                : " (without the effect of wind: craft.mass_kg or rotor.diameter_m missing)"),
        "A clear sky is the upper limit: clouds and haze only reduce the light. The pilot decides"
            + " whether to fly, and local rules come first. Advisory only, not certified.");
  }

  void printBasis(DayQuestion asked) {
    out.blank();
    basis(asked).forEach(this::wrapped);
  }

  /** Notes on the changes. */
  static List<String> notes(DayQuestion asked) {
    List<String> notes = new ArrayList<>();
    notes.add(
        "An additional cell weighs 9 g, and a dirty or cracked cell reduces the light of its string"
            + " (common practice, no source).");
    if (asked.outlook().hover().discLoadingKnown()) {
      double density =
          StandardAtmosphere.density(asked.place().altitude(), asked.weather().warmest());
      notes.add("Blade tips now: " + TipSpeed.of(asked.profile(), 1, density).words() + ".");
      notes.add(
          "Blade tips with propellers 10 % larger: "
              + TipSpeed.of(asked.profile(), WhatIf.LARGER, density).words()
              + ".");
    } else {
      notes.add(
          "Mass or propellers are not in the profile (craft.mass_kg, rotor.diameter_m): changes"
              + " that depend on them are left out, and added cells weigh nothing.");
    }
    return notes;
  }

  void whatIf(DayAnswer answer) {
    out.blank();
    String day = "what if, on " + answer.asked().date();
    out.line("%-46s %8s %9s  %s", day, "best %", "at least", "without WARNING");
    answer.changes().forEach(this::outcome);
    out.blank();
    notes(answer.asked()).forEach(this::wrapped);
    sensitivity(answer.effects());
  }

  private void outcome(WhatIf.Outcome outcome) {
    Optional<Moment> best = outcome.best();
    out.line(
        "%-46s %8s %9s  %s",
        outcome.words(),
        best.map(m -> String.format(Locale.ROOT, "%+.1f", m.marginPercent())).orElse("-"),
        best.map(m -> String.format(Locale.ROOT, "%+.1f", m.lowPercent())).orElse("-"),
        outcome
            .window()
            .map(w -> w.length().toHours() + " h " + w.length().toMinutesPart() + " min")
            .orElse("none"));
  }

  void flown(FlownOutlook flown) {
    out.blank();
    out.line("Flight compared with the forecast: %s", flown.flight().name());
    out.text(flown.when());
    out.blank();
    out.line("%-16s %9s %9s %9s %9s %9s", "median", "forecast", "measured", "off", "+/-", "points");
    flown.all().forEach(this::difference);
    double[] margins = flown.margins();
    out.line(
        "%-16s %+9.0f %+9.0f %+9.0f", "margin, %", margins[0], margins[1], margins[1] - margins[0]);
    out.blank();
    flown.findings().forEach(this::wrapped);
    wrapped(FlownOutlook.NOTE);
  }

  private void difference(FlownOutlook.Difference d) {
    String unit = d.subject() == FlownOutlook.Subject.HEAT ? "K" : "%";
    out.line(
        "%-16s %9.3g %9.3g %+7.0f %s %7.0f %s %+9.0f",
        d.subject().words(),
        d.forecast(),
        d.measured(),
        d.off(),
        unit,
        d.uncertainty(),
        unit,
        d.points());
  }

  private void sensitivity(List<Sensitivity.Effect> effects) {
    out.blank();
    out.line("%-46s %8s  %s", "at the best hour", "points", "equivalent grams");
    for (Sensitivity.Effect effect : effects) {
      out.line(
          "%-46s %+8.3f  %s",
          effect.words(),
          effect.points(),
          Double.isNaN(effect.grams())
              ? "(no mass in the profile)"
              : String.format(Locale.ROOT, "%.1f", effect.grams()));
    }
  }
}
