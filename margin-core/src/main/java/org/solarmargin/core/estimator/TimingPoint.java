package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.StateBounds.clamp;

import java.util.Arrays;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * A time model as a point in the coordinates of the search: logarithms of time constants and of the
 * noise behind the filter, so that a step is a factor, and delays in seconds. Constants without a
 * stated trial are engineering judgement.
 */
final class TimingPoint {

  static final int VOLTS = 0;
  static final int AMPS = 1;
  static final int COMMAND_DELAY = 2;
  static final int AMPS_DELAY = 3;
  static final int COMMAND_LAG = 4;
  static final int READOUT = 5;
  static final int PARAMETERS = 6;

  /** The parameters of time constants are logarithms of them plus this, s. */
  static final double TIME_FLOOR = 0.02;

  /**
   * Noise behind the filter, relative to the stated noise: the parameter is the logarithm of it
   * plus this.
   */
  static final double READOUT_FLOOR = 0.03;

  private static final double LEAST_READOUT = Math.log(1.01 * READOUT_FLOOR);

  /**
   * Penalty on the mean log-likelihood for each unusual property of a model. Systematic errors of
   * the craft model do not average out over a flight, so small gains of likelihood are not
   * significant.
   */
  private static final double PENALTY = 0.03;

  /**
   * Sizes above which properties are unusual: difference of logarithms of time constants; delay.
   */
  private static final double USUAL_DIFFERENCE = 0.2;

  private static final double USUAL_DELAY = 0.015;

  /**
   * Factor on the time constants found: one that is too short is the smaller error, because one
   * that is too long makes the estimate optimistic.
   */
  private static final double CAUTION = 0.8;

  /**
   * Filters with a time constant above this, s, are found too long, 1.0 s as 1.0 to 1.8 s, because
   * slow changes of the light look like a lag: the result is divided by 1 plus {@link
   * #LONG_CAUTION} for each second above it.
   */
  private static final double LONG_FILTER = 0.4;

  private static final double LONG_CAUTION = 0.35;

  /**
   * Interval of readings from which a filter time constant cannot be identified, s; the result is
   * limited to {@link #SLOW_SHARE} of the interval.
   */
  private static final double SLOW_INTERVAL = 0.1;

  private static final double SLOW_SHARE = 0.25;

  /** Shorter time constants are taken as no filter, s. */
  private static final double SHORTEST_FILTER = 1e-3;

  private static final double LONGEST_DELAY = ChannelTiming.LONGEST_DELAY_SECONDS;

  private final double[] p = new double[PARAMETERS];

  void copy(TimingPoint other) {
    System.arraycopy(other.p, 0, p, 0, PARAMETERS);
  }

  /** Equal filters of both readings and nothing else. */
  void setFilters(double seconds) {
    Arrays.fill(p, 0);
    setSeconds(VOLTS, seconds);
    setSeconds(AMPS, seconds);
    setSeconds(COMMAND_LAG, 0);
    p[READOUT] = Math.log(READOUT_FLOOR);
  }

  double get(int parameter) {
    return p[parameter];
  }

  void set(int parameter, double value) {
    p[parameter] = value;
  }

  /** A time constant, s; 0 below a millisecond. */
  double seconds(int parameter) {
    double seconds = Math.exp(p[parameter]) - TIME_FLOOR;
    return seconds < SHORTEST_FILTER ? 0 : seconds;
  }

  void setSeconds(int parameter, double seconds) {
    p[parameter] = Math.log(seconds + TIME_FLOOR);
  }

  /** Limits the delays to the range of a time model. */
  void limitDelays() {
    p[AMPS_DELAY] = clamp(p[AMPS_DELAY], -LONGEST_DELAY, LONGEST_DELAY);
    p[COMMAND_DELAY] = clamp(p[COMMAND_DELAY], 0, LONGEST_DELAY);
  }

  /** Penalty of the point: it is 0 for equal filters without delays and lag. */
  double penalty() {
    return PENALTY
        * (unusual((p[VOLTS] - p[AMPS]) / USUAL_DIFFERENCE)
            + unusual(p[AMPS_DELAY] / USUAL_DELAY)
            + unusual(p[COMMAND_DELAY] / USUAL_DELAY)
            + unusual(seconds(COMMAND_LAG) / USUAL_DELAY));
  }

  /** Increases from 0 to 1; 2/3 at a size of 1. */
  private static double unusual(double size) {
    return size * size / (0.5 + size * size);
  }

  /**
   * Shortens the filters to what the estimator uses.
   *
   * @param interval median interval between rows, s
   * @param freshInterval mean interval between fresh readings, s
   */
  void shorten(double interval, double freshInterval) {
    boolean equal = Math.abs(p[VOLTS] - p[AMPS]) < USUAL_DIFFERENCE;
    double limit = interval < SLOW_INTERVAL ? Double.POSITIVE_INFINITY : SLOW_SHARE * freshInterval;
    setSeconds(VOLTS, Math.min(cautious(seconds(VOLTS), equal), limit));
    setSeconds(AMPS, Math.min(cautious(seconds(AMPS), equal), limit));
  }

  /** Shortens equal filters; unequal ones are kept, because their difference matters more. */
  private static double cautious(double seconds, boolean equal) {
    double excess = Math.max(seconds - LONG_FILTER, 0);
    return equal ? CAUTION * seconds / (1 + LONG_CAUTION * excess) : seconds;
  }

  /** The time model at this point, for readings with the rounding steps of a recording. */
  TimeModel model(
      FlightRecording recording, EstimatorSettings.Sensors sensors, boolean throttleUsed) {
    double ampsLate = p[AMPS_DELAY];
    return new TimeModel(
        new ChannelTiming(
            seconds(VOLTS),
            Math.max(-ampsLate, 0),
            0,
            rounding(VOLTS, recording.voltsStep(), sensors.voltageNoiseVolts())),
        new ChannelTiming(
            seconds(AMPS),
            Math.max(ampsLate, 0),
            0,
            rounding(AMPS, recording.ampsStep(), sensors.currentNoiseAmps())),
        seconds(COMMAND_LAG),
        p[COMMAND_DELAY],
        throttleUsed,
        TimeModel.Source.FOUND);
  }

  /**
   * Rounding step with the same variance as rounding and noise behind the filter together; 0 if
   * there is no filter and the step is below the sensor's noise.
   */
  private double rounding(int filter, double step, double sensorNoise) {
    double readout = p[READOUT] > LEAST_READOUT ? Math.exp(p[READOUT]) - READOUT_FLOOR : 0;
    double noise = readout * sensorNoise;
    if (seconds(filter) == 0 && readout == 0 && step < sensorNoise) {
      return 0;
    }
    return Math.min(Math.sqrt(step * step + 12 * noise * noise), ChannelTiming.COARSEST_STEP);
  }
}
