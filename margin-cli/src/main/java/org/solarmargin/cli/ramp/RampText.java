package org.solarmargin.cli.ramp;

import java.util.List;
import java.util.Locale;
import org.solarmargin.core.estimator.EstimatorSettings;

/** Conclusions from a ramp about the array, in one or two sentences. */
public final class RampText {

  /**
   * Relative sigma of the light above which the array is not compared with its profile. The limits
   * of this class are engineering judgement.
   */
  private static final double KNOWN_SD = 0.05;

  /** Shortfall from which it is reported, and the sigmas that it must exceed. */
  private static final double SHORT = 0.03;

  private static final double SIGMAS = 2;

  /**
   * Least relative sigma of the light: on a ramp that ends below the knee the fit is about 6 % low,
   * which its own sigma does not cover.
   */
  private static final double LEAST_SD = 0.04;

  /** Error of the missing voltage in cells: all ramps of {@code RampTest} are within it. */
  static final double MISSING_CELLS_ERROR = 2;

  private static final double WATTS_PER_SUN = 1000;

  private RampText() {}

  /**
   * Describes a ramp.
   *
   * @param settings settings of the craft
   * @param points points of the ramp
   * @param irradiance irradiance measured during the ramp, W/m2; NaN if it was not
   * @return text without final full stop; empty if there is no ramp
   */
  public static String of(EstimatorSettings settings, List<RampPoint> points, double irradiance) {
    if (points.isEmpty()) {
      return "";
    }
    RampFit fit = RampFit.of(settings, points);
    if (fit == null) {
      return "slow throttle ramp with too few readings to distinguish even from uneven light";
    }
    return knees(fit) + ". " + output(fit, irradiance);
  }

  private static String knees(RampFit fit) {
    return switch (fit.light()) {
      case UNDECIDED ->
          "slow throttle ramp: this log does not show whether all cells have the same light. Repeat"
              + " the ramp more slowly in steady sun";
      case UNEVEN ->
          text(
              "slow throttle ramp: UNEVEN LIGHT. Some cells of each string have less light than the"
                  + " rest: the first knee is at %.0f W instead of %.0f W, and at %.1f A the voltage of"
                  + " about %.1f cells (+-%.0f) is missing. Look for shadows, dirt and cracked cells",
              fit.watts(),
              fit.evenWatts(),
              fit.mostPowerful().amps(),
              fit.missingCells(),
              MISSING_CELLS_ERROR);
      case EVEN ->
          fit.kneeReached()
              ? text(
                  "slow throttle ramp: one knee, at %.0f W; no cell is weaker than the rest",
                  fit.watts())
              : text(
                  "slow throttle ramp: no knee up to its top at %.1f A; a cell that delivers less"
                      + " than that would have shown",
                  fit.topAmps());
    };
  }

  private static String output(RampFit fit, double irradiance) {
    boolean measured = !Double.isNaN(irradiance);
    if (fit.light() == RampFit.Light.UNDECIDED || !(fit.sunsSd() < KNOWN_SD)) {
      return "This log does not show whether the array delivers its rated output: ramp higher,"
          + " towards the knee";
    }
    double watts = WATTS_PER_SUN * fit.suns();
    double uncertainty = SIGMAS * Math.max(fit.sunsSd(), LEAST_SD);
    if (!measured) {
      return text(
          "With this profile the light is %.0f W/m2 (+-%.0f); if an irradiance meter shows more,"
              + " the cells deliver less than rated (--irradiance)",
          watts, uncertainty * watts);
    }
    double share = watts / irradiance;
    String verdict =
        share < 1 - SHORT && share * (1 + uncertainty) < 1
            ? "LESS than rated: dirt, ageing, or a wrong profile"
            : share > 1 + SHORT && share * (1 - uncertainty) > 1
                ? "more than rated: check meter and profile"
                : "as rated";
    return text(
            "At %.0f W/m2 it delivers %.0f %% (+-%.0f) of its rated current, ",
            irradiance, 100 * share, 100 * uncertainty * share)
        + verdict;
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
