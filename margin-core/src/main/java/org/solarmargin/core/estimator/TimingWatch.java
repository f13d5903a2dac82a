package org.solarmargin.core.estimator;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.lag.FirstOrderLag;

/**
 * Tells when readings and throttle do not belong together in time: the innovations of a filter with
 * the right time model are uncorrelated with the throttle's moves, those of a wrong one are not.
 *
 * <p>The throttle passes three first-order lags whose differences are its moves over about 0.1 and
 * 0.5 s. Their correlation with the innovations of current and voltage is followed over {@value
 * #MEMORY_SECONDS} s. Squared, it stays under 0.03 in 99.9 % of the time on simulated flights whose
 * time model is right and stands above 0.09 in half of the time under filters of 0.05 s and more,
 * delays of 0.04 s and more ({@code TimingWatchTest}).
 */
final class TimingWatch {

  private static final double MEMORY_SECONDS = 8;
  private static final double READY_SECONDS = 6;
  private static final double LIMIT = 0.06;
  private static final double SLOW_SECONDS = 0.05;
  private static final double LASTING_SECONDS = 1;
  private static final double LARGEST_INNOVATION = 5;

  private final FirstOrderLag fastLag = new FirstOrderLag(0.08);
  private final FirstOrderLag middleLag = new FirstOrderLag(0.3);
  private final FirstOrderLag memory = new FirstOrderLag(MEMORY_SECONDS);

  private double fast;
  private double middle;
  private double seconds;
  private double lasted;
  private double fastSquared;
  private double middleSquared;
  private double voltsSquared;
  private double ampsSquared;
  private double fastVolts;
  private double middleVolts;
  private double fastAmps;
  private double middleAmps;

  TimingWatch() {
    reset();
  }

  void reset() {
    seconds = Double.NaN;
    lasted = 0;
    fastSquared = 0;
    middleSquared = 0;
    voltsSquared = 0;
    ampsSquared = 0;
    fastVolts = 0;
    middleVolts = 0;
    fastAmps = 0;
    middleAmps = 0;
  }

  /** Takes a sample that a filter has corrected itself by, so many seconds after the last. */
  void follow(double step, Sample sample, HiddenStateFilter filter) {
    follow(
        step,
        sample.throttle,
        sample.hasVolts ? filter.voltsInnovation() : Double.NaN,
        sample.hasAmps ? filter.ampsInnovation() : Double.NaN);
  }

  /**
   * Takes one sample.
   *
   * @param step since the last, s
   * @param throttle that acted, 0 to 1
   * @param volts innovation of the voltage given the current's, over its sigma; NaN if absent
   * @param amps innovation of the current, over its sigma; NaN if absent
   */
  void follow(double step, double throttle, double volts, double amps) {
    if (Double.isNaN(seconds)) {
      fast = throttle;
      middle = throttle;
      seconds = 0;
      return;
    }
    fast += fastLag.share(step) * (throttle - fast);
    middle += middleLag.share(step) * (fast - middle);
    double quick = throttle - fast;
    double slow = fast - middle;
    double share = memory.share(step);
    fastSquared += share * (quick * quick - fastSquared);
    middleSquared += share * (slow * slow - middleSquared);
    if (!Double.isNaN(volts)) {
      double v = StateBounds.clamp(volts, -LARGEST_INNOVATION, LARGEST_INNOVATION);
      voltsSquared += share * (v * v - voltsSquared);
      fastVolts += share * (quick * v - fastVolts);
      middleVolts += share * (slow * v - middleVolts);
    }
    if (!Double.isNaN(amps)) {
      double a = StateBounds.clamp(amps, -LARGEST_INNOVATION, LARGEST_INNOVATION);
      ampsSquared += share * (a * a - ampsSquared);
      fastAmps += share * (quick * a - fastAmps);
      middleAmps += share * (slow * a - middleAmps);
    }
    seconds += step;
    // between slow samples what the motor model leaves follows the throttle too
    double slowness = step / SLOW_SECONDS;
    double limit = LIMIT * (1 + slowness * slowness);
    lasted = correlation() > limit ? lasted + step : 0;
  }

  /** The greatest squared correlation; 0 until it can be told. */
  double correlation() {
    if (!(seconds >= READY_SECONDS)) {
      return 0;
    }
    double ofVolts =
        Math.max(
            square(fastVolts, fastSquared, voltsSquared),
            square(middleVolts, middleSquared, voltsSquared));
    double ofAmps =
        Math.max(
            square(fastAmps, fastSquared, ampsSquared),
            square(middleAmps, middleSquared, ampsSquared));
    return Math.max(ofVolts, ofAmps);
  }

  private static double square(double product, double a, double b) {
    return a > 0 && b > 0 ? product * product / (a * b) : 0;
  }

  /** Whether the throttle's moves must not be used as if they belonged to the readings. */
  boolean disagrees() {
    return lasted >= LASTING_SECONDS;
  }
}
