package org.solarmargin.core.estimator;

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
 * No allocation after construction.
 */
public final class TimingSearch {

  /** Gain of log-likelihood that is required to use the throttle. */
  private static final double THROTTLE_GAIN = 10;

  /** What the trial belongs to. */
  private enum Phase {
    WITHOUT_THROTTLE,
    SCAN,
    DESCENT,
    IN_SERIES
  }

  private final EstimatorSettings.Sensors sensors;
  private final FlightRecording recording;
  private final TimingLikelihood likelihood;
  private final TimingScan scan = new TimingScan();
  private final TimingDescent descent = new TimingDescent();
  private final FiltersInSeries inSeries = new FiltersInSeries();
  private final TimingPoint best = new TimingPoint();
  private final TimingPoint trial = new TimingPoint();

  private boolean running;
  private boolean done;
  private Phase phase = Phase.WITHOUT_THROTTLE;
  private int row;
  private double bestScore;
  private double bestCorrelation;
  private double leftOutScore;
  private double interval;
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
    phase = Phase.WITHOUT_THROTTLE;
    bestScore = Double.NEGATIVE_INFINITY;
    bestCorrelation = Double.NaN;
    leftOutScore = Double.NEGATIVE_INFINITY;
    samples = 0;
    likeliest = TimeModel.UNKNOWN;
    model = TimeModel.UNKNOWN;
    interval = recording.intervalSeconds();
    trial.setFilters(0);
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

  /** Sets the filter up for the trial. */
  private void propose() {
    trial.limitDelays();
    row = 0;
    likelihood.restart(trial.model(recording, sensors, phase != Phase.WITHOUT_THROTTLE));
  }

  /** Takes the mean log-likelihood of the trial and sets up the next one, if there is one. */
  private void take(double score) {
    samples = Math.max(samples, likelihood.samples());
    double comparable = Double.isNaN(score) ? Double.NEGATIVE_INFINITY : score;
    if (next(comparable)) {
      propose();
    } else {
      finish();
    }
  }

  /** Sets up the next trial; false if there is none. */
  private boolean next(double score) {
    return switch (phase) {
      case WITHOUT_THROTTLE -> {
        leftOutScore = score;
        phase = Phase.SCAN;
        scan.start(interval, trial);
        yield true;
      }
      case SCAN -> {
        compare(score);
        if (!scan.next(best, trial)) {
          phase = Phase.DESCENT;
          descent.start(interval, best, trial);
        }
        yield true;
      }
      case DESCENT -> descent.next(compare(score), best, trial) || suspect();
      case IN_SERIES -> inSeries.next(likelihood.throttleCorrelation(), best, trial);
    };
  }

  private boolean suspect() {
    phase = Phase.IN_SERIES;
    return inSeries.start(best, bestCorrelation, recording.freshSeconds(), trial);
  }

  /** Whether the trial is the best so far. */
  private boolean compare(double score) {
    double comparable = score - trial.penalty();
    boolean better = comparable > bestScore;
    if (better) {
      bestScore = comparable;
      bestCorrelation = likelihood.throttleCorrelation();
      best.copy(trial);
    }
    return better;
  }

  private void finish() {
    running = false;
    done = true;
    if (samples == 0) {
      return;
    }
    likeliest = best.model(recording, sensors, true);
    best.shorten(interval, recording.freshSeconds());
    model = best.model(recording, sensors, true);
    if ((bestScore - leftOutScore) * samples <= THROTTLE_GAIN) {
      model = model.withoutThrottle();
    }
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
   * @return {@link TimeModel#UNKNOWN} before the search is done, and if no row was recorded from
   *     three seconds after take-off on
   */
  public TimeModel likeliest() {
    return likeliest;
  }

  /**
   * The time model for the estimator: the most likely one with its filters shortened by a fifth or
   * more, because a filter that is too long makes the estimate optimistic; without the throttle if
   * using it is not clearly more likely.
   *
   * @return {@link TimeModel#UNKNOWN} before the search is done, and if no row was recorded from
   *     three seconds after take-off on
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
