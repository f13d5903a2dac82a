package org.solarmargin.cli.ramp;

import java.util.List;
import java.util.Locale;
import org.solarmargin.core.estimator.EstimatorSettings;

/** What a ramp says of the array, in a sentence or two. */
public final class RampWords {

  /** Light that is known worse than this makes no promise to hold the array to. */
  private static final double KNOWN_SD = 0.05;

  /** Shortfall that is said, and the sigmas that it must have. */
  private static final double SHORT = 0.03;

  private static final double SIGMAS = 2;

  /**
   * The light is told no better than this, a share of it: on a ramp that ends below the knee the
   * fit is some 6 % low, which its own sigma does not cover.
   */
  private static final double LEAST_SD = 0.04;

  private static final double WATTS_PER_SUN = 1000;

  private RampWords() {}

  /**
   * The words.
   *
   * @param settings of the craft
   * @param points of the ramp
   * @param irradiance measured beside the ramp, W/m2; NaN if nobody did
   * @return no full stop; empty if there is no ramp
   */
  public static String of(EstimatorSettings settings, List<RampPoint> points, double irradiance) {
    if (points.isEmpty()) {
      return "";
    }
    RampFit fit = RampFit.of(settings, points);
    if (fit == null) {
      return "a slow throttle ramp, but too few readings to tell even from uneven light";
    }
    return knees(fit) + ". " + promise(fit, irradiance);
  }

  private static String knees(RampFit fit) {
    return switch (fit.light()) {
      case UNTOLD ->
          "slow throttle ramp: whether all cells have the same light cannot be told from this log."
              + " Repeat it in steady sun, more slowly";
      case UNEVEN ->
          text(
              "slow throttle ramp: UNEVEN LIGHT. Some cells of each string have less light than the"
                  + " rest: the first knee is at %.0f W instead of %.0f W. Look for shadows, dirt and"
                  + " cracked cells",
              fit.watts(), fit.evenWatts());
      case EVEN ->
          fit.kneeReached()
              ? text("slow throttle ramp: one knee, at %.0f W; no cell falls behind", fit.watts())
              : text(
                  "slow throttle ramp: no knee below its top, %.1f A; a cell that gives less than"
                      + " that would have shown",
                  fit.topAmps());
    };
  }

  private static String promise(RampFit fit, double irradiance) {
    boolean measured = !Double.isNaN(irradiance);
    if (fit.light() == RampFit.Light.UNTOLD || !(fit.sunsSd() < KNOWN_SD)) {
      return "Whether the array delivers what the profile promises cannot be told from this log:"
          + " ramp higher, towards the knee";
    }
    double watts = WATTS_PER_SUN * fit.suns();
    double uncertainty = SIGMAS * Math.max(fit.sunsSd(), LEAST_SD);
    if (!measured) {
      return text(
          "By the profile its light is %.0f W/m2 (+-%.0f): a sun meter that shows more means cells"
              + " that deliver less than promised (--irradiance)",
          watts, uncertainty * watts);
    }
    double share = watts / irradiance;
    String verdict =
        share < 1 - SHORT && share * (1 + uncertainty) < 1
            ? "LESS than the profile promises: dirt, age, or a wrong profile"
            : share > 1 + SHORT && share * (1 - uncertainty) > 1
                ? "more than the profile promises: check meter and profile"
                : "what the profile promises";
    return text(
            "In %.0f W/m2 it delivers %.0f %% (+-%.0f) of its current, ",
            irradiance, 100 * share, 100 * uncertainty * share)
        + verdict;
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
