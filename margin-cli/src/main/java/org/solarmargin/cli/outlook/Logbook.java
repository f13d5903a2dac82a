package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;

/** Flights of one craft in their order, and what changes over them. */
final class Logbook {

  /** Sources and limits of what is said. */
  static final String NOTE =
      "Light: what the array shows by the profile over a clear sky's in its plane, median; flights under"
          + " moving light (quarters over 4 % apart) or without a time of day are left out of its trend."
          + " A hazy day still is in it, and widens the interval. Hover: median demand over the"
          + " forecast's. Trends by ordinary least squares with intervals of 95 % (Student's t); a step"
          + " where it leaves less than half of what the line leaves. Cells lose about half a percent a"
          + " year (from memory, no source).";

  /** Percent a 30 days beyond which cells do not age: some five times what is usual. */
  private static final double AGEING = 0.25;

  private static final double SECONDS_PER_DAY = 86_400;

  private final List<FlownOutlook> flights;
  private final List<FlownOutlook> steady;
  private final Trend light;
  private final Trend hover;

  /** Flights in any order, each with its start. */
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

  /** Those whose light was steady: a clear sky's, or an even haze's. */
  List<FlownOutlook> steady() {
    return steady;
  }

  Trend light() {
    return light;
  }

  Trend hover() {
    return hover;
  }

  /** What the flights come to, in sentences. */
  List<String> sentences() {
    List<String> sentences = new ArrayList<>();
    sentences.add(told("Array's light response", light, steady) + lightAdvice());
    sentences.add(told("Hover power", hover, flights) + hoverAdvice());
    List<FlownOutlook> uneven = flights.stream().filter(f -> f.flight().unevenShare() > 0).toList();
    if (!uneven.isEmpty()) {
      sentences.add(
          String.format(
              Locale.ROOT,
              "Dim cells are proven in %d flights, the last on %s: look for a shadow, dirt on a few"
                  + " cells, or a crack (margin fit array on a sweep).",
              uneven.size(),
              uneven.get(uneven.size() - 1).from().toLocalDate()));
    }
    return sentences;
  }

  private static String told(String subject, Trend trend, List<FlownOutlook> some) {
    String over =
        String.format(Locale.ROOT, "%d flight%s", some.size(), some.size() == 1 ? "" : "s");
    return switch (trend.kind()) {
      case TOO_FEW -> subject + ": " + over + ", too few for a trend (four on two days or more).";
      case NONE ->
          text(
              "%s: no trend outside its interval over %s, %+.2f %% in 30 days (%+.2f to %+.2f).",
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
              ? " Cleaner cells, or clearer skies."
              : light.high() < -AGEING
                  ? " Faster than cells age: DIRT first. Wash the array and see whether it returns."
                  : " As AGEING cells do, or slow dirt: wash the array, then measure it again (margin fit"
                      + " array).";
      case STEP ->
          falls
              ? " A CRACKED CELL, a shadow that is new, or a fresh layer of dirt: wash it, look at each"
                  + " cell, measure a sweep (margin fit array)."
              : " Washed or mended?";
      default -> "";
    };
  }

  private String hoverAdvice() {
    boolean rises = hover.change() > 0;
    return switch (hover.kind()) {
      case SLOPE, STEP ->
          rises
              ? " More to lift, or worn or damaged propellers and bearings: weigh it, look at them, and"
                  + " state the new hover point (margin fit rotor)."
              : " Lighter, better propellers, or more wind: wind takes power off a hover.";
      default -> "";
    };
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
