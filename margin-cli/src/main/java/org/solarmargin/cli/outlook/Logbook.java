package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;

/** Flights of one craft in chronological order, with trends over them. */
final class Logbook {

  /** Sources and limits of the statements. */
  static final String NOTE =
      "Light: median of the light derived from the array with the profile, relative to a clear sky"
          + " in its plane. Flights under moving light (interquartile range above 4 %) are left out"
          + " of its trend. Hazy days remain in it and widen the interval. Hover: median demand"
          + " relative to the forecast. Trends are by ordinary least squares with intervals of 95 %"
          + " (Student's t); a step is reported where it leaves less than half the residual sum of"
          + " squares of the line. Cells lose about half a percent per year (from memory, no"
          + " source).";

  /**
   * Loss in 30 days, percent, above which ageing is ruled out: about six times the usual rate.
   * Engineering judgement.
   */
  private static final double AGEING = 0.25;

  private static final double SECONDS_PER_DAY = 86_400;

  private final List<FlownOutlook> flights;
  private final List<FlownOutlook> steady;
  private final Trend light;
  private final Trend hover;

  /** Creates a logbook of flights, given in any order. */
  Logbook(List<FlownOutlook> flown) {
    flights = new ArrayList<>(flown);
    flights.sort(Comparator.comparing(FlownOutlook::from));
    steady = flights.stream().filter(f -> !f.movingLight()).toList();
    light = Trend.of(points(steady, FlownOutlook::lightRatio));
    hover = Trend.of(points(flights, FlownOutlook::hoverRatio));
  }

  private List<Trend.Point> points(List<FlownOutlook> some, ToDoubleFunction<FlownOutlook> ratio) {
    return some.stream().map(f -> new Trend.Point(day(f), 100 * ratio.applyAsDouble(f))).toList();
  }

  /** Days since the first flight. */
  double day(FlownOutlook flight) {
    return Duration.between(flights.get(0).from(), flight.from()).toSeconds() / SECONDS_PER_DAY;
  }

  List<FlownOutlook> flights() {
    return flights;
  }

  /** Flights under steady light: a clear sky or uniform haze. */
  List<FlownOutlook> steady() {
    return steady;
  }

  Trend light() {
    return light;
  }

  Trend hover() {
    return hover;
  }

  /** The conclusions in sentences. */
  List<String> sentences() {
    List<String> sentences = new ArrayList<>();
    sentences.add(trend("Array's light response", light, steady) + lightAdvice());
    sentences.add(trend("Hover power", hover, flights) + hoverAdvice());
    List<FlownOutlook> uneven = flights.stream().filter(f -> f.flight().unevenShare() > 0).toList();
    if (!uneven.isEmpty()) {
      sentences.add(
          String.format(
              Locale.ROOT,
              "Dim cells were found in %d flights, most recently on %s: look for a shadow, dirt on"
                  + " a few cells, or a crack (margin fit array on a sweep).",
              uneven.size(),
              uneven.get(uneven.size() - 1).from().toLocalDate()));
    }
    return sentences;
  }

  private static String trend(String subject, Trend trend, List<FlownOutlook> some) {
    String over =
        String.format(Locale.ROOT, "%d flight%s", some.size(), some.size() == 1 ? "" : "s");
    return switch (trend.kind()) {
      case TOO_FEW ->
          subject + ": " + over + ", too few for a trend (four are needed, on at least two days).";
      case NONE ->
          text(
              "%s: no significant trend over %s, %+.2f %% in 30 days (%+.2f to %+.2f).",
              subject, over, trend.change(), trend.low(), trend.high());
      case SLOPE ->
          text(
              "%s: %+.2f %% in 30 days (%+.2f to %+.2f) over %s.",
              subject, trend.change(), trend.low(), trend.high(), over);
      case STEP ->
          text(
              "%s: a step of %+.1f %% (%+.1f to %+.1f) between %s and %s.",
              subject,
              trend.change(),
              trend.low(),
              trend.high(),
              some.get(trend.before() - 1).from().toLocalDate(),
              some.get(trend.before()).from().toLocalDate());
    };
  }

  private String lightAdvice() {
    boolean falls = light.change() < 0;
    return switch (light.kind()) {
      case SLOPE ->
          !falls
              ? " Cleaner cells or clearer skies."
              : light.high() < -AGEING
                  ? " This is faster than cells age: suspect DIRT first. Wash the array and see"
                      + " whether the light response recovers."
                  : " Cells AGE at about this rate, or dirt builds up slowly: wash the array, then"
                      + " measure it again (margin fit array).";
      case STEP ->
          falls
              ? " A CRACKED CELL, a new shadow, or fresh dirt: wash the array, inspect each cell,"
                  + " and measure a sweep (margin fit array)."
              : " Was the array cleaned or repaired?";
      default -> "";
    };
  }

  private String hoverAdvice() {
    boolean rises = hover.change() > 0;
    return switch (hover.kind()) {
      case SLOPE, STEP ->
          rises
              ? " A heavier craft, or worn or damaged propellers or bearings: weigh it, inspect"
                  + " them, and state the new hover point (margin fit rotor)."
              : " A lighter craft, better propellers, or more wind: wind reduces hover power.";
      default -> "";
    };
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
