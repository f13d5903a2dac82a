package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.StateBounds.clamp;

import java.util.Arrays;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * Finds the time model of a logger from a recorded part of a flight: the one under which the
 * readings are most likely ({@link TimingLikelihood}), by a coarse scan of the common filter time
 * constant and delays, followed by a coordinate descent with halved steps.
 *
 * <p>Two filters in series are tried if the innovations under the most likely model are still
 * correlated with throttle changes. One candidate does not use the throttle: it is the most likely
 * if the motors do not follow the throttle column or if no other candidate describes the timing.
 * The work is divided into slices by {@link #work}, so that it can run alongside a live estimate.
 * No allocation after construction. Constants without a stated trial are engineering judgement.
 */
public final class TimingSearch {

  /** Common filter time constants of the coarse scan, s. */
  private static final double[] FILTERS = {0, 0.03, 0.06, 0.1, 0.16, 0.25, 0.4, 0.63, 1, 1.6};

  /**
   * Two filters in series: time constants of the second one, s, and ratios of the first one's to
   * it. The first is modelled as a lag of the command: the effect of the throttle passes through
   * both filters, noise only through the second.
   */
  private static final double[] STAGES = {0.03, 0.045, 0.06, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25};

  private static final double[] STAGE_RATIOS = {0.5, 1};

  private static final int SECOND_ORDER = STAGES.length * STAGE_RATIOS.length;

  /**
   * Mean squared correlation of throttle changes with the innovations above which two filters in
   * series are tried; they are used if they reduce it to less than {@link #BETTER_SHARE} of its
   * value. On flights logged 50 times per second, it is 0.001 to 0.016 for a single filter or a
   * moving average that was identified correctly, and 0.026 to 0.09 for two filters identified as
   * one.
   */
  private static final double SUSPECT_CORRELATION = 0.02;

  private static final double BETTER_SHARE = 0.5;

  /**
   * Longest interval of readings, s: that correlation is higher for sparser readings in any case.
   */
  private static final double FAST_INTERVAL = 0.06;

  /** Delays of the current relative to the voltage in the scan, sample intervals. */
  private static final int[] AMPS_DELAYS = {-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 8};

  /** Delays of both relative to the command in the scan, sample intervals. */
  private static final int[] COMMAND_DELAYS = {1, 2, 3, 4, 6, 8};

  private static final int FROM_FILTERS = 1 + AMPS_DELAYS.length;
  private static final int FROM_DELAYED = FROM_FILTERS + FILTERS.length;
  private static final int FROM_NOISY = FROM_DELAYED + FILTERS.length;
  private static final int FROM_COMMANDS = FROM_NOISY + FILTERS.length;
  private static final int SCANS = FROM_COMMANDS + COMMAND_DELAYS.length;

  /** The parameters of the descent are logarithms of filter time constants plus this, s. */
  private static final double TIME_FLOOR = 0.02;

  /**
   * Penalty on the mean log-likelihood for each unusual property of a model. Systematic errors of
   * the craft model do not average out over a flight, so small gains of likelihood are not
   * significant.
   */
  private static final double PENALTY = 0.03;

  /** Resolution of delays between the channels, s. */
  private static final double FINEST_DELAY = 0.025;

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
  private static final double FIRST_STEP = 0.5;
  private static final double LAST_STEP = 0.1;

  /** Shorter time constants are taken as no filter, s. */
  private static final double SHORTEST_FILTER = 1e-3;

  /**
   * Noise behind the filter, relative to the stated noise: the parameter of the descent is the
   * logarithm of it plus this.
   */
  private static final double READOUT_FLOOR = 0.03;

  private static final double LEAST_READOUT = Math.log(1.01 * READOUT_FLOOR);
  private static final double LARGEST_READOUT = 5;

  /** Longest lag of a motor controller with which a craft can fly, s. */
  private static final double LONGEST_RAMP = 0.3;

  private static final double LONGEST_DELAY = ChannelTiming.LONGEST_DELAY_SECONDS;

  /** Gain of log-likelihood that is required to use the throttle. */
  private static final double THROTTLE_GAIN = 10;

  private static final int NONE = -1;
  private static final int VOLTS = 0;
  private static final int AMPS = 1;
  private static final int COMMON = 2;
  private static final int COMMAND_DELAY = 3;
  private static final int AMPS_DELAY = 4;
  private static final int COMMAND_LAG = 5;
  private static final int READOUT = 6;

  /** The order of the descent, most important parameter first. */
  private static final int[] MOVES = {
    COMMON, READOUT, COMMAND_DELAY, AMPS_DELAY, VOLTS, AMPS, COMMAND_LAG
  };

  private static final int PARAMETERS = 7;

  private final EstimatorSettings.Sensors sensors;
  private final FlightRecording recording;
  private final TimingLikelihood likelihood;
  private final double[] best = new double[PARAMETERS];
  private final double[] trial = new double[PARAMETERS];

  private boolean running;
  private boolean done;
  private boolean leftOut;
  private int row;
  private int scan;
  private int move;
  private int sign;
  private double step;
  private boolean improved;
  private double bestScore;
  private double bestCorrelation;
  private double longestStages;
  private int stage;
  private double leftOutScore;
  private double interval;
  private double freshInterval;
  private double scanDelay;
  private long samples;
  private TimeModel likeliest = TimeModel.UNKNOWN;
  private TimeModel model = TimeModel.UNKNOWN;

  /**
   * Creates a search without recorded rows.
   *
   * @param settings prior knowledge of the craft, not null
   * @param rows number of rows to record, 16 or more
   * @param spacingSeconds minimum spacing of rows, s, 0 or more
   */
  public TimingSearch(EstimatorSettings settings, int rows, double spacingSeconds) {
    sensors = settings.sensors();
    recording = new FlightRecording(rows, Math.round(spacingSeconds * 1e9));
    likelihood = new TimingLikelihood(settings, TimeModel.UNKNOWN);
  }

  /** Discards the recording and the result. */
  public void clear() {
    recording.clear();
    running = false;
    done = false;
    likeliest = TimeModel.UNKNOWN;
    model = TimeModel.UNKNOWN;
  }

  /**
   * Records a row of the flight for the search.
   *
   * @param nanos time, ns, increasing
   * @param throttle 0 to 1
   * @param volts V; NaN if not fresh
   * @param amps A; NaN if not fresh
   */
  public void record(long nanos, double throttle, double volts, double amps) {
    recording.add(nanos, throttle, volts, amps);
  }

  /**
   * Whether the recording is full.
   *
   * @return true once no further row is recorded
   */
  public boolean full() {
    return recording.full();
  }

  /** Starts the search over the recorded rows. */
  public void start() {
    running = recording.size() > 0;
    done = !running;
    leftOut = true;
    scan = 0;
    move = 0;
    sign = 1;
    step = FIRST_STEP;
    improved = false;
    bestScore = Double.NEGATIVE_INFINITY;
    bestCorrelation = Double.NaN;
    stage = NONE;
    leftOutScore = Double.NEGATIVE_INFINITY;
    interval = recording.intervalSeconds();
    freshInterval = recording.freshSeconds();
    Arrays.fill(trial, 0);
    setFilters(0);
    propose();
  }

  /**
   * Runs a slice of the search.
   *
   * @param rows highest number of rows to run through the filter
   * @return true once the search is done
   */
  public boolean work(int rows) {
    for (int i = 0; i < rows && running; i++) {
      double throttle = recording.throttle(row);
      likelihood.command(recording.nanos(row), throttle);
      likelihood.reading(recording.nanos(row), recording.volts(row), recording.amps(row));
      row++;
      if (row == recording.size()) {
        take(likelihood.meanLogLikelihood());
      }
    }
    return done;
  }

  /** Sets the filter up for the trial parameters. */
  private void propose() {
    trial[AMPS_DELAY] = clamp(trial[AMPS_DELAY], -LONGEST_DELAY, LONGEST_DELAY);
    trial[COMMAND_DELAY] = clamp(trial[COMMAND_DELAY], 0, LONGEST_DELAY);
    row = 0;
    likelihood.restart(modelOf(trial, !leftOut));
  }

  private void take(double score) {
    samples = Math.max(samples, likelihood.samples());
    double comparable = Double.isNaN(score) ? Double.NEGATIVE_INFINITY : score;
    if (leftOut) {
      leftOutScore = comparable;
      leftOut = false;
      setScan();
      propose();
      return;
    }
    if (stage != NONE) {
      takeStage();
      return;
    }
    comparable -= penalty();
    boolean better = comparable > bestScore;
    if (better) {
      bestScore = comparable;
      bestCorrelation = likelihood.throttleCorrelation();
      System.arraycopy(trial, 0, best, 0, PARAMETERS);
    }
    if (scan < SCANS) {
      scan++;
      if (scan < SCANS) {
        setScan();
        propose();
        return;
      }
    } else if (better) {
      improved = true;
    }
    descend(better);
  }

  /**
   * Sets up the next trial of the coarse scan: first no filter and a current that is early or late,
   * then the filters without and with the best of these delays, then with as much noise behind the
   * filter as is stated before it, and last delays relative to the command for the best of all.
   */
  private void setScan() {
    Arrays.fill(trial, 0);
    setFilters(0);
    if (scan == 0) {
      return;
    }
    if (scan < FROM_FILTERS) {
      trial[AMPS_DELAY] = AMPS_DELAYS[scan - 1] * interval;
    } else if (scan < FROM_DELAYED) {
      scanDelay = scan == FROM_FILTERS ? best[AMPS_DELAY] : scanDelay;
      setFilters(FILTERS[scan - FROM_FILTERS]);
    } else if (scan < FROM_NOISY) {
      setFilters(FILTERS[scan - FROM_DELAYED]);
      trial[AMPS_DELAY] = scanDelay;
    } else if (scan < FROM_COMMANDS) {
      setFilters(FILTERS[scan - FROM_NOISY]);
      trial[READOUT] = 0;
    } else {
      System.arraycopy(best, 0, trial, 0, PARAMETERS);
      trial[COMMAND_DELAY] = COMMAND_DELAYS[scan - FROM_COMMANDS] * interval;
    }
  }

  private void setFilters(double seconds) {
    trial[VOLTS] = Math.log(seconds + TIME_FLOOR);
    trial[AMPS] = trial[VOLTS];
    trial[COMMAND_LAG] = Math.log(TIME_FLOOR);
    trial[READOUT] = Math.log(READOUT_FLOOR);
  }

  /** Penalty of the trial: it is 0 for equal filters without delays and lag. */
  private double penalty() {
    return PENALTY
        * (unusual((trial[VOLTS] - trial[AMPS]) / USUAL_DIFFERENCE)
            + unusual(trial[AMPS_DELAY] / USUAL_DELAY)
            + unusual(trial[COMMAND_DELAY] / USUAL_DELAY)
            + unusual(seconds(trial[COMMAND_LAG]) / USUAL_DELAY));
  }

  /** Increases from 0 to 1; 2/3 at a size of 1. */
  private static double unusual(double size) {
    return size * size / (0.5 + size * size);
  }

  /**
   * Sets up the next trial: the same direction if it helped, else the other, else the next
   * parameter.
   */
  private void descend(boolean better) {
    boolean first = scan == SCANS;
    if (first) {
      scan++;
    } else if (!better) {
      sign = -sign;
      move += sign > 0 ? 1 : 0;
    }
    while (true) {
      if (move == MOVES.length) {
        if (!improved) {
          step *= 0.5;
        }
        if (step < LAST_STEP) {
          tryStages();
          return;
        }
        move = 0;
        sign = 1;
        improved = false;
      }
      System.arraycopy(best, 0, trial, 0, PARAMETERS);
      if (shift(MOVES[move])) {
        propose();
        return;
      }
      sign = -sign;
      move += sign > 0 ? 1 : 0;
    }
  }

  /** Changes one parameter of the trial; false if the result is out of range. */
  private boolean shift(int parameter) {
    double by = sign * step;
    return switch (parameter) {
      case COMMON -> {
        boolean moved = shiftTime(VOLTS, by);
        yield shiftTime(AMPS, by) && moved;
      }
      case VOLTS, AMPS, COMMAND_LAG -> shiftTime(parameter, by);
      case READOUT -> shiftReadout(2 * by);
      case COMMAND_DELAY ->
          shiftWithin(COMMAND_DELAY, sign * delayStep(0.5 * interval), 0, LONGEST_DELAY);
      default ->
          shiftWithin(
              AMPS_DELAY, sign * delayStep(finestAmpsDelay()), -LONGEST_DELAY, LONGEST_DELAY);
    };
  }

  private boolean shiftReadout(double by) {
    double floor = Math.log(READOUT_FLOOR);
    double before = trial[READOUT];
    trial[READOUT] = Math.max(before + by, floor);
    return trial[READOUT] != before && trial[READOUT] <= Math.log(LARGEST_READOUT);
  }

  private boolean shiftWithin(int parameter, double by, double low, double high) {
    trial[parameter] += by;
    return trial[parameter] >= low && trial[parameter] <= high;
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

  private boolean shiftTime(int parameter, double by) {
    double floor = Math.log(TIME_FLOOR);
    double before = trial[parameter];
    trial[parameter] = Math.max(before + by, floor);
    double longest = parameter == COMMAND_LAG ? LONGEST_RAMP : ChannelTiming.LONGEST_FILTER_SECONDS;
    return trial[parameter] != before && trial[parameter] <= Math.log(longest + TIME_FLOOR);
  }

  /**
   * Readings behind two filters in series are smoother than under any candidate of the descent, so
   * that one filter that is far too long has the highest likelihood. It is recognised by
   * innovations that are correlated with throttle changes. Readings without a filter are excluded.
   */
  private void tryStages() {
    longestStages = Math.min(seconds(best[VOLTS]), seconds(best[AMPS]));
    boolean suspect = bestCorrelation > SUSPECT_CORRELATION && freshInterval < FAST_INTERVAL;
    if (!suspect || longestStages < STAGES[0]) {
      finish();
      return;
    }
    bestCorrelation *= BETTER_SHARE;
    stage = 0;
    setStage();
    propose();
  }

  private void setStage() {
    double seconds = STAGES[stage / STAGE_RATIOS.length];
    double ratio = STAGE_RATIOS[stage % STAGE_RATIOS.length];
    Arrays.fill(trial, 0);
    setFilters(seconds);
    trial[COMMAND_LAG] = Math.log(ratio * seconds + TIME_FLOOR);
  }

  private void takeStage() {
    double correlation = likelihood.throttleCorrelation();
    double stages = seconds(trial[VOLTS]) + seconds(trial[COMMAND_LAG]);
    if (correlation < bestCorrelation && stages < longestStages) {
      bestCorrelation = correlation;
      System.arraycopy(trial, 0, best, 0, PARAMETERS);
    }
    stage++;
    if (stage == SECOND_ORDER) {
      finish();
    } else {
      setStage();
      propose();
    }
  }

  private void finish() {
    running = false;
    done = true;
    likeliest = modelOf(best, true);
    boolean equal = Math.abs(best[VOLTS] - best[AMPS]) < USUAL_DIFFERENCE;
    best[VOLTS] = cautious(best[VOLTS], equal);
    best[AMPS] = cautious(best[AMPS], equal);
    model = modelOf(best, true);
    if ((bestScore - leftOutScore) * samples <= THROTTLE_GAIN) {
      model = model.withoutThrottle();
    }
  }

  /** Shortens equal filters; unequal ones are kept, because their difference matters more. */
  private double cautious(double logarithm, boolean equal) {
    double seconds = seconds(logarithm);
    double excess = Math.max(seconds - LONG_FILTER, 0);
    double found = equal ? CAUTION * seconds / (1 + LONG_CAUTION * excess) : seconds;
    double limit = interval < SLOW_INTERVAL ? found : SLOW_SHARE * freshInterval;
    return Math.log(Math.min(found, limit) + TIME_FLOOR);
  }

  private TimeModel modelOf(double[] p, boolean throttleUsed) {
    double readout = p[READOUT] > LEAST_READOUT ? Math.exp(p[READOUT]) - READOUT_FLOOR : 0;
    double ampsLate = p[AMPS_DELAY];
    return new TimeModel(
        new ChannelTiming(
            seconds(p[VOLTS]),
            Math.max(-ampsLate, 0),
            0,
            rounding(p[VOLTS], recording.voltsStep(), readout, sensors.voltageNoiseVolts())),
        new ChannelTiming(
            seconds(p[AMPS]),
            Math.max(ampsLate, 0),
            0,
            rounding(p[AMPS], recording.ampsStep(), readout, sensors.currentNoiseAmps())),
        seconds(p[COMMAND_LAG]),
        p[COMMAND_DELAY],
        throttleUsed,
        TimeModel.Source.FOUND);
  }

  /**
   * Rounding step with the same variance as rounding and noise behind the filter together; 0 if
   * there is no filter and the step is below the sensor's noise.
   */
  private static double rounding(double filter, double step, double readout, double sensorNoise) {
    double noise = readout * sensorNoise;
    if (seconds(filter) == 0 && readout == 0 && step < sensorNoise) {
      return 0;
    }
    return Math.min(Math.sqrt(step * step + 12 * noise * noise), ChannelTiming.COARSEST_STEP);
  }

  private static double seconds(double logarithm) {
    double seconds = Math.exp(logarithm) - TIME_FLOOR;
    return seconds < SHORTEST_FILTER ? 0 : seconds;
  }

  /**
   * Whether the search has ended.
   *
   * @return true once {@link #model()} is available
   */
  public boolean done() {
    return done;
  }

  /**
   * The most likely time model, as found.
   *
   * @return {@link TimeModel#UNKNOWN} before the search is done
   */
  public TimeModel likeliest() {
    return likeliest;
  }

  /**
   * The time model for the estimator: the most likely one with its filters shortened by a fifth or
   * more, because a filter that is too long makes the estimate optimistic; without the throttle if
   * using it is not clearly more likely.
   *
   * @return {@link TimeModel#UNKNOWN} before the search is done
   */
  public TimeModel model() {
    return model;
  }

  /**
   * Number of rows recorded so far.
   *
   * @return 0 or more
   */
  public int rows() {
    return recording.size();
  }

  /**
   * Median interval between the recorded rows.
   *
   * @return s; 0 with fewer than two rows
   */
  public double intervalSeconds() {
    return recording.intervalSeconds();
  }

  /**
   * Smallest difference of consecutive voltage readings: the rounding step, or less.
   *
   * @return V; 0 if they never differed
   */
  public double voltsStep() {
    return recording.voltsStep();
  }

  /**
   * Smallest difference of consecutive current readings: the rounding step, or less.
   *
   * @return A; 0 if they never differed
   */
  public double ampsStep() {
    return recording.ampsStep();
  }

  /**
   * Gain of likelihood by using the throttle.
   *
   * @return mean difference of the log-likelihoods per sample
   */
  public double throttleGain() {
    return bestScore - leftOutScore;
  }
}
