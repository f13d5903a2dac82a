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

/** An outlook for people, 80 columns. */
final class OutlookText {

  static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
  private static final int ROWS = 30;
  private static final int WIDTH = 78;

  private final Lines out;

  OutlookText(Lines out) {
    this.out = out;
  }

  /** A text as lines of the terminal's width. */
  void wrapped(String text) {
    Wrapped.lines(text, WIDTH).forEach(out::text);
  }

  void day(List<Moment> moments, AlertRules rules, Duration step, boolean ascii) {
    if (moments.isEmpty()) {
      out.text("No light on the array on that day: polar night.");
      return;
    }
    out.line(
        "%5s %7s %6s %8s %8s %8s %7s %7s %6s %5s",
        "time",
        "light",
        "cells",
        "gives",
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
              "What the lower bound leaves over hover, steps of %d min; W, c, a: below the WARNING,"
                  + " CAUTION, ADVISORY threshold",
              step.toMinutes()));
      chart.forEach(out::text);
      out.blank();
    }
  }

  void printWindows(List<Moment> moments, AlertRules rules, Duration step) {
    windows(moments, rules, step).forEach((name, span) -> out.line("%-24s %s", name, span));
  }

  /** Spans by what holds in them. */
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

  /** A window from when to when. */
  static String ends(Window window) {
    return CLOCK.format(window.from()) + " to " + CLOCK.format(window.to());
  }

  /** The day in one line. */
  static String headline(List<Moment> moments, DayQuestion asked) {
    if (moments.isEmpty()) {
      return "No light on the array on that day: polar night";
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
                        "Best at %s: margin %+.0f %% (%+.0f to %+.0f), %.0f W (%.0f to %.0f) for a hover"
                            + " of %.0f W.",
                        CLOCK.format(m.time()),
                        m.marginPercent(),
                        m.lowPercent(),
                        100 * (m.highWatts() / m.demandWatts() - 1),
                        m.availableWatts(),
                        m.lowWatts(),
                        m.highWatts(),
                        m.demandWatts()),
                    String.format(
                        Locale.ROOT,
                        "Then clouds may take %.0f %% of the light until nothing is left for hover.",
                        100 * outlook.bearableCloud(m))))
        .orElse(List.of());
  }

  void best(List<Moment> moments, DayOutlook outlook) {
    bestSentences(moments, outlook).forEach(this::wrapped);
  }

  /** What every answer rests on, and its limits. */
  static List<String> restsOn(DayQuestion asked) {
    HoverDemand hover = asked.outlook().hover();
    return List.of(
        String.format(
            Locale.ROOT,
            "Rests on: sun by NREL/TP-560-34302; clear sky by Haurwitz (1945), sea level and clean air,"
                + " less %.0f %% of haze; 15 %% of it diffuse (common practice, no source); cells at"
                + " the profile's rise over air of %s; ISA; hover point of the profile by momentum"
                + " theory%s. Bounds: 95 %% each, for a sky that is clear.",
            100 * asked.weather().haze(),
            asked.weather().words(),
            hover.knowsDiscs() ? "" : " (no relief by wind: mass or rotor.diameter_m missing)"),
        "A clear sky is the upper limit: clouds and haze only take away. The decision to fly is the"
            + " flyer's, and local rules come first. Advisory only, not certified.");
  }

  void printRestsOn(DayQuestion asked) {
    out.blank();
    restsOn(asked).forEach(this::wrapped);
  }

  /** What is to be said of the changes. */
  static List<String> notes(DayQuestion asked) {
    List<String> notes = new ArrayList<>();
    notes.add(
        "A cell more weighs 9 g, a dirty or cracked cell takes light off its string (common practice,"
            + " no source).");
    if (asked.outlook().hover().knowsDiscs()) {
      double density =
          StandardAtmosphere.density(asked.place().altitude(), asked.weather().warmest());
      notes.add("Tips now: " + TipSpeed.of(asked.profile(), 1, density).words() + ".");
      notes.add(
          "Tips of propellers 10 % larger: "
              + TipSpeed.of(asked.profile(), WhatIf.LARGER, density).words()
              + ".");
    } else {
      notes.add(
          "Mass or propellers are not in the profile (craft.mass_kg, rotor.diameter_m): what rests on"
              + " them is left out, and added cells weigh nothing.");
    }
    return notes;
  }

  void whatIf(DayAnswer answer) {
    out.blank();
    out.line("%-46s %8s %9s  %s", "what if", "best %", "at least", "without WARNING");
    answer.changes().forEach(this::outcome);
    out.blank();
    notes(answer.asked()).forEach(this::wrapped);
    sensitivity(answer.worths());
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
    out.line("Flight beside the forecast: %s", flown.flight().name());
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

  private void sensitivity(List<Sensitivity.Worth> worths) {
    out.blank();
    out.line("%-46s %8s  %s", "at the best hour", "points", "worth as many grams");
    for (Sensitivity.Worth worth : worths) {
      out.line(
          "%-46s %+8.3f  %s",
          worth.words(),
          worth.points(),
          Double.isNaN(worth.grams())
              ? "(no mass in the profile)"
              : String.format(Locale.ROOT, "%.1f", worth.grams()));
    }
  }
}
