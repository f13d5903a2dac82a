package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.StateBounds.clamp;

import java.util.Arrays;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * Finds the time model of a logger from a stretch of flight: the one under which the readings are
 * most likely ({@link TimingLikelihood}), by a coarse scan of the common filter time and a descent
 * along each parameter in turn with halved steps.
 *
 * <p>Two filters in a row are looked for where the most likely model leaves the throttle's moves in
 * the innovations. The throttle left out is one of the candidates: a throttle column that the
 * motors do not follow, or a timing that no candidate describes, makes it the most likely. Work
 * comes in slices of {@link #work}, so that it can run beside a live estimate. Allocates nothing
 * after construction.
 */
public final class TimingSearch {

  /** Common filter times of the coarse scan, s. */
  private static final double[] FILTERS = {0, 0.03, 0.06, 0.1, 0.16, 0.25, 0.4, 0.63, 1, 1.6};

  /**
   * Two filters in a row: times of the second one, s, and of the first one over it. The first is
   * taken as a lag of the command: what the throttle moves passes through both, noise through one.
   */
  private static final double[] STAGES = {0.03, 0.045, 0.06, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25};

  private static final double[] STAGE_RATIOS = {0.5, 1};

  private static final int SECOND_ORDER = STAGES.length * STAGE_RATIOS.length;

  /**
   * Mean squared correlation of the throttle's moves with the innovations from which on two filters
   * in a row are tried; they are taken if they leave less than this share of it. One filter or a
   * moving average that is found rightly leaves 0.001 to 0.016 on flights that are logged 50 times
   * a second, two filters that are taken for one 0.026 to 0.09.
   */
  private static final double DOUBTFUL_CORRELATION = 0.02;

  private static final double BETTER_SHARE = 0.5;

  /** Readings farther apart than this, s, leave more of the throttle's moves by themselves. */
  private static final double FAST_INTERVAL = 0.06;

  /** Delays of the current behind the voltage in the scan, sample intervals. */
  private static final int[] AMPS_DELAYS = {-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 8};

  /** Delays of both behind the command in the scan, sample intervals. */
  private static final int[] COMMAND_DELAYS = {1, 2, 3, 4, 6, 8};

  private static final int FROM_FILTERS = 1 + AMPS_DELAYS.length;
  private static final int FROM_DELAYED = FROM_FILTERS + FILTERS.length;
  private static final int FROM_NOISY = FROM_DELAYED + FILTERS.length;
  private static final int FROM_COMMANDS = FROM_NOISY + FILTERS.length;
  private static final int SCANS = FROM_COMMANDS + COMMAND_DELAYS.length;

  /** The descent is along logarithms of filter times plus this, s. */
  private static final double TIME_FLOOR = 0.02;

  /**
   * Loss of mean likelihood of a model in which one thing is unusual. Systematic errors of the
   * craft model are not averaged away over a flight, so small gains of likelihood prove nothing.
   */
  private static final double SURPRISE = 0.03;

  /** Delays between the channels are not told finer than this, s. */
  private static final double FINEST_DELAY = 0.025;

  /** Sizes from which things are unusual: difference of logarithms of filter times; delay, s. */
  private static final double USUAL_DIFFERENCE = 0.2;

  private static final double USUAL_DELAY = 0.015;

  /** Filter times are rather taken too short: what is left is a stiffness that the filter knows. */
  private static final double CAUTION = 0.8;

  /**
   * Filters longer than this, s, are found too long, 1.0 s as 1.0 to 1.8 s, because slow changes of
   * the light pass for a lag: each second more divides the time by 1 and this share more.
   */
  private static final double LONG_FILTER = 0.4;

  private static final double LONG_CAUTION = 0.35;

  /**
   * At such intervals and longer a filter time cannot be told; no more than this share is taken.
   */
  private static final double SLOW_INTERVAL = 0.1;

  private static final double SLOW_SHARE = 0.25;
  private static final double FIRST_STEP = 0.5;
  private static final double LAST_STEP = 0.1;

  /** A shorter time is none, s. */
  private static final double SHORTEST_FILTER = 1e-3;

  /** Noise behind the filter, over the stated noise: the descent is along logarithms of it plus: */
  private static final double READOUT_FLOOR = 0.03;

  private static final double LEAST_READOUT = Math.log(1.01 * READOUT_FLOOR);
  private static final double LARGEST_READOUT = 5;

  /** A motor controller that ramps for longer would not fly. */
  private static final double LONGEST_RAMP = 0.3;

  private static final double LONGEST_DELAY = ChannelTiming.LONGEST_DELAY_SECONDS;

  /** What a time model must gain over the throttle left out, in logarithms of likelihood. */
  private static final double THROTTLE_GAIN = 10;

  private static final int NONE = -1;
  private static final int VOLTS = 0;
  private static final int AMPS = 1;
  private static final int COMMON = 2;
  private static final int COMMAND_DELAY = 3;
  private static final int AMPS_DELAY = 4;
  private static final int COMMAND_LAG = 5;
  private static final int READOUT = 6;

  /** The order of the descent: what matters most comes first. */
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
   * A search that has seen nothing.
   *
   * @param settings what is known of the craft, not null
   * @param rows how many rows to keep, 16 or more
   * @param spacingSeconds least spacing of rows, s, 0 or more
   */
  public TimingSearch(EstimatorSettings settings, int rows, double spacingSeconds) {
    sensors = settings.sensors();
    recording = new FlightRecording(rows, Math.round(spacingSeconds * 1e9));
    likelihood = new TimingLikelihood(settings, TimeModel.UNKNOWN);
  }

  /** Forgets the stretch and what was found. */
  public void clear() {
    recording.clear();
    running = false;
    done = false;
    likeliest = TimeModel.UNKNOWN;
    model = TimeModel.UNKNOWN;
  }

  /**
   * Keeps a row of the flight for the search.
   *
   * @param nanos time, ns, rising
   * @param throttle 0 to 1
   * @param volts V; NaN if not fresh
   * @param amps A; NaN if not fresh
   */
  public void record(long nanos, double throttle, double volts, double amps) {
    recording.add(nanos, throttle, volts, amps);
  }

  /**
   * Whether no further row is kept.
   *
   * @return true once the stretch is full
   */
  public boolean full() {
    return recording.full();
  }

  /** Begins the search over what was recorded. */
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
   * Works on the search.
   *
   * @param rows how many rows to run through the filter at most
   * @return true when the search is done
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
    comparable -= surprise();
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
   * The next trial of the coarse scan: no filter with the current early or late, then the filters
   * without and with the best of these delays, then with as much noise behind the filter as is
   * stated before it, then delays behind the command at the best of all.
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

  /** How unusual the trial is, as a loss of likelihood: equal filters and no delay are usual. */
  private double surprise() {
    return SURPRISE
        * (unusual((trial[VOLTS] - trial[AMPS]) / USUAL_DIFFERENCE)
            + unusual(trial[AMPS_DELAY] / USUAL_DELAY)
            + unusual(trial[COMMAND_DELAY] / USUAL_DELAY)
            + unusual(seconds(trial[COMMAND_LAG]) / USUAL_DELAY));
  }

  /** From 0 to 1, most of the way at the usual size. */
  private static double unusual(double size) {
    return size * size / (0.5 + size * size);
  }

  /** The next trial: on in a direction that helped, else the other way, else the next parameter. */
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

  /** Moves the trial along a parameter; false if that leads out of range. */
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
   * Step of the delay between the channels, s: whole intervals of a fast log, because channels half
   * an interval apart are likelier by chance than they are; parts of a slow log's intervals.
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
   * Readings behind two filters in a row are smoother than any candidate of the descent, so that
   * the likelihood takes one filter that is far too long. The throttle's moves tell: they stay in
   * the innovations. Readings without a filter are none of this, whatever the throttle leaves.
   */
  private void tryStages() {
    longestStages = Math.min(seconds(best[VOLTS]), seconds(best[AMPS]));
    boolean doubtful = bestCorrelation > DOUBTFUL_CORRELATION && freshInterval < FAST_INTERVAL;
    if (!doubtful || longestStages < STAGES[0]) {
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

  /** Unequal filters are taken as found: their difference counts more than their length. */
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
   * Step of rounding that leaves as much as rounding and noise behind the filter together; nothing
   * where there is no filter and the step is lost in the sensor's noise.
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
   * @return true once {@link #model()} is found
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
   * The time model to estimate with: the most likely one with its filters taken a fifth shorter,
   * because a filter taken too long makes the estimate optimistic; without the throttle where that
   * is not more likely than without.
   *
   * @return {@link TimeModel#UNKNOWN} before the search is done
   */
  public TimeModel model() {
    return model;
  }

  /**
   * Rows kept so far.
   *
   * @return 0 or more
   */
  public int rows() {
    return recording.size();
  }

  /**
   * Median interval of the rows kept.
   *
   * @return s; 0 with fewer than two rows
   */
  public double intervalSeconds() {
    return recording.intervalSeconds();
  }

  /**
   * Smallest difference of two voltage readings in a row: the step of rounding, or less.
   *
   * @return V; 0 if they never differed
   */
  public double voltsStep() {
    return recording.voltsStep();
  }

  /**
   * Smallest difference of two current readings in a row: the step of rounding, or less.
   *
   * @return A; 0 if they never differed
   */
  public double ampsStep() {
    return recording.ampsStep();
  }

  /**
   * How much more likely the readings are with the throttle than without.
   *
   * @return mean difference of the logarithms a sample
   */
  public double throttleGain() {
    return bestScore - leftOutScore;
  }
}
