package org.solarmargin.cli.outlook;

import java.time.Instant;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Comparison of a flight with the forecast for its time and place: medians over the seconds in the
 * air, and the effect of each difference in percentage points of margin. A difference larger than
 * its uncertainty (two sigmas of forecast and measurement combined) shows that an assumption was
 * wrong.
 */
final class FlownOutlook {

  /** Relative sigma of the forecast hover power: common practice, no source. */
  private static final double HOVER_LOG_SD = 0.03;

  /**
   * Sigma of the cell temperature with a thermometer, and without one, K: common practice, no
   * source.
   */
  private static final double THERMOMETER_SD = 3;

  private static final double ESTIMATED_SD = 6;
  private static final double SIGNIFICANT_SIGMAS = 2;

  /**
   * Interquartile range of the light relative to a clear sky above which the sky was not clear:
   * common practice, no source.
   */
  private static final double MOVING_LIGHT = 0.04;

  /** How to read the table. */
  static final String NOTE =
      "Points: effect of the difference on the margin, in percent of hover power. Light is derived"
          + " from the array with the profile, so dirt and ageing look like haze. Uncertainty"
          + " (+/-): two sigmas of forecast and measurement (sky 5 %, cell temperature 5 K, a"
          + " thermometer 3 K, without one 6 K, hover 3 %: common practice, no source; and the"
          + " interval of the estimate).";

  /** The compared quantities. */
  enum Subject {
    LIGHT("light, W/m2"),
    HEAT("cells, C"),
    HOVER("hover, W");

    private final String words;

    Subject(String words) {
      this.words = words;
    }

    String words() {
      return words;
    }
  }

  /**
   * One quantity.
   *
   * @param subject the quantity
   * @param forecast median over the flight
   * @param measured median over the flight
   * @param off measured minus forecast: percent of the forecast, for the cell temperature K
   * @param uncertainty two sigmas of that difference
   * @param points its effect on the margin at the middle of the flight, percentage points
   */
  record Difference(
      Subject subject,
      double forecast,
      double measured,
      double off,
      double uncertainty,
      double points) {

    boolean significant() {
      return Math.abs(off) > uncertainty;
    }
  }

  private final CraftProfile profile;
  private final MeasuredFlight flight;
  private final ZonedDateTime from;
  private final ZonedDateTime to;
  private final List<Moment> forecast = new ArrayList<>();
  private final DayOutlook outlook;
  private final double lightRatio;
  private final double lightSpread;
  private final double hoverRatio;
  private final List<Difference> differences;

  /** Compares a flight whose first row was written at an instant. */
  FlownOutlook(DayQuestion asked, MeasuredFlight flight, Instant start) {
    profile = asked.profile();
    this.flight = flight;
    outlook = asked.outlook();
    from = at(start, asked.zone(), flight.seconds().get(0));
    to = at(start, asked.zone(), flight.seconds().get(flight.seconds().size() - 1));
    Moment now = null;
    for (MeasuredFlight.Second second : flight.seconds()) {
      ZonedDateTime time = at(start, asked.zone(), second);
      // the sun moves by a quarter of a degree per minute, so once a minute is enough
      if (now == null || time.toEpochSecond() / 60 != now.time().toEpochSecond() / 60) {
        now = outlook.at(time);
      }
      forecast.add(now);
    }
    double[] light = sortedRatios(MeasuredFlight.Second::suns, Moment::suns);
    lightRatio = quantile(light, 0.5);
    lightSpread = quantile(light, 0.75) - quantile(light, 0.25);
    hoverRatio = quantile(sortedRatios(MeasuredFlight.Second::watts, Moment::demandWatts), 0.5);
    differences = differences();
  }

  private static ZonedDateTime at(Instant start, ZoneId zone, MeasuredFlight.Second second) {
    return start.plusMillis(Math.round(1000 * second.offset())).atZone(zone);
  }

  private List<Difference> differences() {
    EstimatorSettings.Sensors sensors = profile.settings().sensors();
    Moment middle = forecast.get(forecast.size() / 2);
    double lightSd = Math.hypot(DayOutlook.SKY_LOG_SD, median(MeasuredFlight.Second::lightSd));
    double heatSd =
        Math.hypot(DayOutlook.HEAT_SD, flight.thermometer() ? THERMOMETER_SD : ESTIMATED_SD);
    double gain = Math.hypot(sensors.voltageGainSd(), sensors.currentGainSd());
    double offset = sensors.currentOffsetSdAmps() * profile.settings().rotor().hoverBusVolts();
    double suns = lightRatio * middle.suns();
    double kelvin = median(MeasuredFlight.Second::celsius) - medianForecast(Moment::cellCelsius);
    double watts = hoverRatio * middle.demandWatts();
    double now = outlook.marginPercent(middle.suns(), middle.cellCelsius(), middle.demandWatts());
    // the cell temperature is held here; its effect is calculated separately
    double byLight = outlook.marginPercent(suns, middle.cellCelsius(), middle.demandWatts());
    double byHeat =
        outlook.marginPercent(middle.suns(), middle.cellCelsius() + kelvin, middle.demandWatts());
    double byHover = outlook.marginPercent(middle.suns(), middle.cellCelsius(), watts);
    return List.of(
        new Difference(
            Subject.LIGHT,
            1000 * medianForecast(Moment::suns),
            1000 * median(MeasuredFlight.Second::suns),
            100 * (lightRatio - 1),
            100 * SIGNIFICANT_SIGMAS * lightSd,
            byLight - now),
        new Difference(
            Subject.HEAT,
            medianForecast(Moment::cellCelsius),
            median(MeasuredFlight.Second::celsius),
            kelvin,
            SIGNIFICANT_SIGMAS * heatSd,
            byHeat - now),
        new Difference(
            Subject.HOVER,
            medianForecast(Moment::demandWatts),
            median(MeasuredFlight.Second::watts),
            100 * (hoverRatio - 1),
            100 * SIGNIFICANT_SIGMAS * Math.hypot(HOVER_LOG_SD, Math.hypot(gain, offset / watts)),
            byHover - now));
  }

  private double median(ToDoubleFunction<MeasuredFlight.Second> value) {
    return quantile(flight.seconds().stream().mapToDouble(value).sorted().toArray(), 0.5);
  }

  private double medianForecast(ToDoubleFunction<Moment> value) {
    return quantile(forecast.stream().mapToDouble(value).sorted().toArray(), 0.5);
  }

  private static double quantile(double[] sorted, double share) {
    return sorted[(int) Math.round(share * (sorted.length - 1))];
  }

  private double[] sortedRatios(
      ToDoubleFunction<MeasuredFlight.Second> measured, ToDoubleFunction<Moment> expected) {
    return IntStream.range(0, forecast.size())
        .mapToDouble(
            i ->
                measured.applyAsDouble(flight.seconds().get(i))
                    / expected.applyAsDouble(forecast.get(i)))
        .sorted()
        .toArray();
  }

  /** Median of the light derived from the array, relative to a clear sky. */
  double lightRatio() {
    return lightRatio;
  }

  /** Interquartile range of the same; clouds increase it. */
  double lightSpread() {
    return lightSpread;
  }

  /** Whether the light varied because of clouds. */
  boolean movingLight() {
    return lightSpread > MOVING_LIGHT;
  }

  /** Median of the demand relative to the forecast hover power. */
  double hoverRatio() {
    return hoverRatio;
  }

  /** Measured minus forecast cell temperature, K. */
  double heatOff() {
    return difference(Subject.HEAT).off();
  }

  /** Time with an estimate, min. */
  double minutes() {
    return flight.seconds().size() / 60.0;
  }

  private Difference difference(Subject subject) {
    return differences.get(subject.ordinal());
  }

  /** Whether the sun was up throughout the flight, so that there is a forecast to compare with. */
  boolean sunUp() {
    return forecast.stream().allMatch(m -> m.suns() > DayOutlook.DARK);
  }

  MeasuredFlight flight() {
    return flight;
  }

  ZonedDateTime from() {
    return from;
  }

  List<Difference> all() {
    return differences;
  }

  /** Forecast and actual margin at the middle of the flight, percent. */
  double[] margins() {
    Moment middle = forecast.get(forecast.size() / 2);
    return new double[] {
      middle.marginPercent(),
      outlook.marginPercent(
          lightRatio * middle.suns(),
          middle.cellCelsius() + heatOff(),
          hoverRatio * middle.demandWatts())
    };
  }

  /** Human-readable time of the flight. */
  String when() {
    return String.format(
        Locale.ROOT,
        "%s, %s to %s %s, %.1f min with an estimate",
        from.toLocalDate(),
        OutlookText.CLOCK.format(from),
        OutlookText.CLOCK.format(to),
        from.getZone(),
        minutes());
  }

  /** Which assumptions were wrong, largest effect first, and which values would fit this flight. */
  List<String> findings() {
    List<String> sentences = new ArrayList<>();
    differences.stream()
        .filter(Difference::significant)
        .sorted(Comparator.comparingDouble(d -> -Math.abs(d.points())))
        .forEach(d -> sentences.add(finding(d)));
    if (sentences.isEmpty()) {
      Difference most =
          differences.stream()
              .max(Comparator.comparingDouble(d -> Math.abs(d.points())))
              .orElseThrow();
      sentences.add(
          String.format(
              Locale.ROOT,
              "No assumption was off by more than its uncertainty; the largest effect was %+.0f"
                  + " points (%s).",
              most.points(),
              most.subject().words().replaceAll(",.*", "")));
    }
    if (movingLight()) {
      sentences.add(
          String.format(
              Locale.ROOT,
              "The light varied by %.0f %% of a clear sky's (interquartile range): clouds.",
              100 * lightSpread));
    }
    if (flight.unevenShare() > 0) {
      sentences.add(
          String.format(
              Locale.ROOT,
              "The readings show dim cells in %.0f %% of the flight: a shadow, dirt or a crack.",
              Math.max(1, 100 * flight.unevenShare())));
    }
    return sentences;
  }

  private String finding(Difference d) {
    return switch (d.subject()) {
      case LIGHT ->
          d.off() < 0
              ? text(
                  "OFF: light %.0f %% below a clear sky's: haze, clouds, dirt, ageing, or another"
                      + " attitude (--tilt, --heading); --haze %.0f would fit this flight.",
                  -d.off(), 100 * (1 - (1 - outlook.haze()) * lightRatio))
              : text(
                  "OFF: light %.0f %% above a clear sky's: bright clouds near the sun, very clear"
                      + " air or a high altitude; do not count on it.",
                  d.off());
      case HEAT -> heatFinding(d);
      case HOVER ->
          text(
              "OFF: hover %.0f %% %s: %s; rotor.hover_power_w = %.3g would fit this flight.",
              Math.abs(d.off()),
              d.off() > 0 ? "more" : "less",
              d.off() > 0
                  ? "heavier than stated, climbing, worn propellers or rough air"
                  : "wind (--wind), or lighter than stated",
              hoverRatio * profile.settings().rotor().hoverWatts());
    };
  }

  private String heatFinding(Difference d) {
    double rise = profile.settings().thermal().sunRiseKelvin();
    double light = difference(Subject.LIGHT).measured() / 1000;
    double air = medianForecast(Moment::airCelsius);
    return text(
        "OFF: cells %.0f K %s: air temperature (--air-c), wind over the cells, or their rise above"
            + " the air: %.0f K in full sun would fit this flight (thermal.sun_rise_c, now %.0f).",
        Math.abs(d.off()), d.off() > 0 ? "hotter" : "cooler", (d.measured() - air) / light, rise);
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
