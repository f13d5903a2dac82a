package org.solarmargin.core.estimator;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.lag.FirstOrderLag;

/**
 * Detects a wrong time model of the throttle: the innovations of a filter with the right time model
 * are uncorrelated with throttle changes, those of a filter with a wrong one are not.
 *
 * <p>The throttle passes two first-order lags in series, whose differences are its changes over
 * about 0.1 and 0.5 s. Their correlation with the innovations of current and voltage is averaged
 * over {@value #MEMORY_SECONDS} s. Its square stays below 0.09 in simulated flights whose time
 * model is right, and exceeds 0.4 within 13 s in the scenarios {@code timing-filtered-module} and
 * {@code timing-late-current}; filters and delays of a few hundredths of a second are above the
 * limit as well ({@code TimingWatchTest}).
 */
final class TimingWatch {

  private static final double MEMORY_SECONDS = 8;
  private static final double READY_SECONDS = 6;
  private static final double LIMIT = 0.06;
  private static final double SLOW_SECONDS = 0.05;

  /**
   * Integral of the squared correlation's relative excess over its limit, s, from which the time
   * model is wrong. In 128 flights each of three crafts whose time model is right, with 48, 60 and
   * 80 cells, it is rejected in 0, 7 and 2; in 5, 26 and 28 if a second above the limit suffices. A
   * filter of 0.03 s and a current that is late by 0.04 s are detected in each of 16 flights, one
   * that is late by 0.02 s, whose estimate is too low, in a third of the flights.
   */
  private static final double EXCESS_SECONDS = 3;

  private static final double LARGEST_INNOVATION = 5;

  private final FirstOrderLag fastLag = new FirstOrderLag(0.08);
  private final FirstOrderLag middleLag = new FirstOrderLag(0.3);
  private final FirstOrderLag memory = new FirstOrderLag(MEMORY_SECONDS);

  private double fast;
  private double middle;
  private double seconds;
  private double excess;
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
    excess = 0;
    fastSquared = 0;
    middleSquared = 0;
    voltsSquared = 0;
    ampsSquared = 0;
    fastVolts = 0;
    middleVolts = 0;
    fastAmps = 0;
    middleAmps = 0;
  }

  /** Processes a sample after its measurement update, {@code step} seconds after the last. */
  void follow(double step, Sample sample, HiddenStateFilter filter) {
    follow(
        step,
        sample.throttle,
        sample.hasVolts ? filter.innovations().volts() : Double.NaN,
        sample.hasAmps ? filter.innovations().amps() : Double.NaN);
  }

  /**
   * Processes one sample.
   *
   * @param step time since the last sample, s
   * @param throttle throttle in effect, 0 to 1
   * @param volts innovation of the voltage conditional on the current's, in sigmas; NaN if absent
   * @param amps innovation of the current, in sigmas; NaN if absent
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
    // at a low sample rate, errors of the motor model are correlated with the throttle too
    double slowness = step / SLOW_SECONDS;
    double limit = LIMIT * (1 + slowness * slowness);
    excess = Math.max(excess + step * (correlation() / limit - 1), 0);
  }

  /** The greatest squared correlation; 0 until it is available. */
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

  /** Whether the time model is wrong, so that the throttle must not be used. */
  boolean disagrees() {
    return excess >= EXCESS_SECONDS;
  }
}
