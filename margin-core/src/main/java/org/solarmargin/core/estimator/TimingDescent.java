package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.TimingPoint.AMPS;
import static org.solarmargin.core.estimator.TimingPoint.AMPS_DELAY;
import static org.solarmargin.core.estimator.TimingPoint.COMMAND_DELAY;
import static org.solarmargin.core.estimator.TimingPoint.COMMAND_LAG;
import static org.solarmargin.core.estimator.TimingPoint.READOUT;
import static org.solarmargin.core.estimator.TimingPoint.VOLTS;

import org.solarmargin.core.timing.ChannelTiming;

/**
 * The coordinate descent of the search for the time model: each parameter is changed by a step in
 * one direction as long as that helps, then in the other; after a pass over all parameters that has
 * not helped, the step is halved. Its steps are engineering judgement.
 */
final class TimingDescent {

  /** Both filters together. */
  private static final int COMMON = TimingPoint.PARAMETERS;

  /** The order of the descent, most important parameter first. */
  private static final int[] MOVES = {
    COMMON, READOUT, COMMAND_DELAY, AMPS_DELAY, VOLTS, AMPS, COMMAND_LAG
  };

  private static final double FIRST_STEP = 0.5;
  private static final double LAST_STEP = 0.1;

  /** Resolution of delays between the channels, s. */
  private static final double FINEST_DELAY = 0.025;

  private static final double LARGEST_READOUT = 5;

  /** Longest lag of a motor controller with which a craft can fly, s. */
  private static final double LONGEST_RAMP = 0.3;

  private static final double LONGEST_DELAY = ChannelTiming.LONGEST_DELAY_SECONDS;

  private double interval;
  private int move;
  private int sign;
  private double step;
  private boolean improved;

  /**
   * Sets up the first trial.
   *
   * @param intervalSeconds sample interval, s
   * @param best where to start
   */
  void start(double intervalSeconds, TimingPoint best, TimingPoint trial) {
    interval = intervalSeconds;
    move = 0;
    sign = 1;
    step = FIRST_STEP;
    improved = false;
    propose(best, trial);
  }

  /**
   * Sets up the next trial: the same direction if it helped, else the other, else the next
   * parameter.
   *
   * @param better whether the last trial was better than all before
   * @param best the best point so far
   * @return false if the descent has ended
   */
  boolean next(boolean better, TimingPoint best, TimingPoint trial) {
    if (better) {
      improved = true;
    } else {
      turn();
    }
    return propose(best, trial);
  }

  private void turn() {
    sign = -sign;
    move += sign > 0 ? 1 : 0;
  }

  private boolean propose(TimingPoint best, TimingPoint trial) {
    while (true) {
      if (move == MOVES.length) {
        if (!improved) {
          step *= 0.5;
        }
        if (step < LAST_STEP) {
          return false;
        }
        move = 0;
        sign = 1;
        improved = false;
      }
      trial.copy(best);
      if (shift(MOVES[move], trial)) {
        return true;
      }
      turn();
    }
  }

  /** Changes one parameter of the trial; false if the result is out of range. */
  private boolean shift(int parameter, TimingPoint trial) {
    double by = sign * step;
    return switch (parameter) {
      case COMMON -> {
        boolean moved = shiftTime(VOLTS, by, trial);
        yield shiftTime(AMPS, by, trial) && moved;
      }
      case VOLTS, AMPS, COMMAND_LAG -> shiftTime(parameter, by, trial);
      case READOUT ->
          shiftAbove(READOUT, 2 * by, TimingPoint.READOUT_FLOOR, LARGEST_READOUT, trial);
      case COMMAND_DELAY ->
          shiftWithin(COMMAND_DELAY, sign * delayStep(0.5 * interval), 0, LONGEST_DELAY, trial);
      default ->
          shiftWithin(
              AMPS_DELAY,
              sign * delayStep(finestAmpsDelay()),
              -LONGEST_DELAY,
              LONGEST_DELAY,
              trial);
    };
  }

  private static boolean shiftTime(int parameter, double by, TimingPoint trial) {
    double longest = parameter == COMMAND_LAG ? LONGEST_RAMP : ChannelTiming.LONGEST_FILTER_SECONDS;
    double floor = TimingPoint.TIME_FLOOR;
    return shiftAbove(parameter, by, floor, longest + floor, trial);
  }

  /** Shifts a logarithm, which stops at the floor. */
  private static boolean shiftAbove(
      int parameter, double by, double floor, double ceiling, TimingPoint trial) {
    double before = trial.get(parameter);
    double after = Math.max(before + by, Math.log(floor));
    trial.set(parameter, after);
    return after != before && after <= Math.log(ceiling);
  }

  private static boolean shiftWithin(
      int parameter, double by, double low, double high, TimingPoint trial) {
    double after = trial.get(parameter) + by;
    trial.set(parameter, after);
    return after >= low && after <= high;
  }

  private double delayStep(double least) {
    return least * Math.max(Math.rint(4 * step), 1);
  }

  /**
   * Step of the delay between the channels, s: whole intervals for a fast log, because half an
   * interval often has a higher likelihood by chance; fractions of the interval for a slow log.
   */
  private double finestAmpsDelay() {
    return interval / Math.ceil(interval / FINEST_DELAY);
  }
}
