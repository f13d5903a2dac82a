package org.solarmargin.core.estimator;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.TimeModel;

/**
 * The time model of a live estimate. It is either stated or searched for from take-off on; a model
 * that was searched for is used once two consecutive searches agree, and checked every five
 * minutes. The throttle is not used any more as soon as the innovations show that it does not match
 * the readings. A stated model is then tried again after a while, because a disturbance of some
 * seconds, such as a wrong scale, is correlated with the throttle as well.
 *
 * <p>A search records {@value #ROWS} rows (some 20 s at 50 Hz) and runs {@value #ROWS_A_SECOND}
 * rows per second through a filter of its own; the second search ends some 80 s after take-off.
 */
final class LiveTiming {

  private static final int ROWS = 1024;
  private static final double SPACING_SECONDS = 0.018;
  private static final double ROWS_A_SECOND = 6000;
  private static final int LEAST_ROWS = 80;
  private static final double LONGEST_RECORD_SECONDS = 45;
  private static final double SEARCHING_LOG_SD = 0.09;
  private static final double FOUND_LOG_SD = 0.07;
  private static final double LEFT_OUT_LOG_SD = 0.04;
  private static final double FILTER_SIGMAS = 0.18;
  private static final double LIVE_SIGMAS = 0.4;
  private static final double SLOW_SIGMAS = 0.08;
  private static final double FULL_BIAS_SECONDS = 0.1;
  private static final double IMMEDIATE_SECONDS = 0.03;
  private static final double AGAIN_SECONDS = 300;

  /**
   * Time after which a stated model that was rejected is tried again, s: the time constant of
   * {@link TimingWatch}, so that it is judged by later readings. It doubles with each trial.
   */
  private static final double FIRST_TRIAL_SECONDS = 8;

  /**
   * Squared innovation over its variance above which the readings have made a step: 20 sigmas. In
   * the simulator's scenarios no time model is rejected within {@link #DISTURBED_SECONDS} of one.
   */
  private static final double STEP = 400;

  /** Time after a step of the readings, s, within which a rejection may be due to a disturbance. */
  private static final double DISTURBED_SECONDS = 15;

  /** Duration of a trial, s: it has passed unless the model was rejected by then. */
  private static final double PASSED_SECONDS = 10;

  /** Number of searches in immediate succession; later ones every {@link #AGAIN_SECONDS}. */
  private static final int MOST_SEARCHES = 4;

  /**
   * Two searches agree if their delays differ by less than this, s, and their filter time constants
   * plus {@link #AGREED_FLOOR} by less than the ratio whose logarithm is {@link #AGREED_LOG}.
   */
  private static final double AGREED_DELAY = 0.03;

  private static final double AGREED_LOG = Math.log(1.5);
  private static final double AGREED_FLOOR = 0.03;

  private final TimeModel stated;
  private final TimingSearch search;
  private final TimingWatch watch = new TimingWatch();

  private TimeModel model;
  private TimingStatus status;
  private TimeModel candidate = TimeModel.UNKNOWN;
  private int searches;
  private boolean recording;
  private boolean searching;
  private boolean taken;

  /** Time of recording, or since the end of the last search, s. */
  private double phaseSeconds;

  private int recordedRows;
  private double rowBudget;
  private double slowSeconds;
  private boolean trial;
  private double trialSeconds;
  private double waitSeconds;
  private double sinceStep;
  private boolean mayTry;

  LiveTiming(EstimatorSettings settings) {
    this(
        settings.timing(),
        settings.timing().known() ? null : new TimingSearch(settings, ROWS, SPACING_SECONDS));
  }

  /**
   * The time model of an estimate with this search.
   *
   * @param search null if the model is known
   */
  LiveTiming(TimeModel stated, TimingSearch search) {
    this.stated = stated;
    this.search = search;
    reset();
  }

  void reset() {
    model = stated;
    candidate = TimeModel.UNKNOWN;
    searches = 0;
    status = statusOf(stated);
    watch.reset();
    searching = false;
    slowSeconds = 0;
    trial = false;
    trialSeconds = 0;
    waitSeconds = FIRST_TRIAL_SECONDS;
    sinceStep = DISTURBED_SECONDS;
    mayTry = false;
    record();
  }

  private static TimingStatus statusOf(TimeModel model) {
    return switch (model.source()) {
      case STATED -> TimingStatus.STATED;
      case FOUND -> model.throttleUsed() ? TimingStatus.FOUND : TimingStatus.LEFT_OUT;
      case UNKNOWN -> TimingStatus.SEARCHING;
    };
  }

  private void record() {
    recording = search != null;
    taken = false;
    phaseSeconds = 0;
    recordedRows = 0;
    rowBudget = 0;
    if (search != null) {
      search.clear();
    }
  }

  /** Takes the squared innovation of a sample over its variance. */
  void outlier(double size) {
    if (size > STEP) {
      sinceStep = 0;
    }
  }

  /** Discards the evidence collected so far, because implausible readings have arrived. */
  void disturbed() {
    watch.reset();
    if (recording) {
      record();
    }
  }

  /**
   * Adds a reading taken in flight to the search.
   *
   * @param step time since the last reading, s
   */
  void reading(double step, long nanos, double throttle, double volts, double amps) {
    if (search == null) {
      return;
    }
    if (recording) {
      search.record(nanos, throttle, volts, amps);
      phaseSeconds += step;
      recordedRows++;
      boolean enough = phaseSeconds > LONGEST_RECORD_SECONDS && recordedRows >= LEAST_ROWS;
      if (search.full() || enough) {
        recording = false;
        searching = true;
        search.start();
        phaseSeconds = 0;
      }
    } else if (searching) {
      rowBudget = Math.min(rowBudget + step * ROWS_A_SECOND, ROWS);
      int rows = (int) rowBudget;
      rowBudget -= rows;
      searching = !search.work(rows);
    } else {
      phaseSeconds += step;
      if (phaseSeconds > AGAIN_SECONDS) {
        record();
      }
    }
  }

  /**
   * Takes a corrected sample.
   *
   * @param settled whether the craft has been in the air for some seconds
   * @return whether the model has changed
   */
  boolean follow(double step, boolean settled, Sample sample, HiddenStateFilter filter) {
    sinceStep += step;
    if (search != null && search.done() && !taken) {
      taken = true;
      return take(search.model());
    }
    double slow = Math.max(step - IMMEDIATE_SECONDS, 0);
    slowSeconds += 0.1 * (slow - slowSeconds);
    if (!settled) {
      return false;
    }
    if (!model.throttleUsed()) {
      return mayTry && beginTrial(step);
    }
    watch.follow(step, sample, filter);
    if (!watch.disagrees()) {
      passTrial(step);
      return false;
    }
    // the watch is reset when a model that uses the throttle is next used;
    // a model that was found and is now rejected is not valid between voltage and current either
    boolean fromProfile = model.source() == TimeModel.Source.STATED;
    model = fromProfile ? model.withoutThrottle() : TimeModel.UNKNOWN;
    status = TimingStatus.LEFT_OUT;
    candidate = TimeModel.UNKNOWN;
    searches = 0;
    mayTry = search == null && (trial || sinceStep < DISTURBED_SECONDS);
    trial = false;
    trialSeconds = 0;
    if (!searching) {
      record();
    }
    return true;
  }

  /** After some time without the throttle, the stated model is used again on trial. */
  private boolean beginTrial(double step) {
    trialSeconds += step;
    if (trialSeconds < waitSeconds) {
      return false;
    }
    waitSeconds = Math.min(2 * waitSeconds, AGAIN_SECONDS);
    trialSeconds = 0;
    trial = true;
    model = stated;
    watch.reset();
    return true;
  }

  private void passTrial(double step) {
    if (trial) {
      trialSeconds += step;
      if (trialSeconds > PASSED_SECONDS) {
        trial = false;
        trialSeconds = 0;
        status = statusOf(stated);
      }
    }
  }

  /**
   * The readings of the last seconds turned out invalid: discards their evidence, and uses the
   * stated model again if it was rejected soon after a step or because of them.
   *
   * @param leftOut whether it was already rejected before them
   * @return whether the model has changed
   */
  boolean returned(boolean leftOut) {
    disturbed();
    if (search != null || status != TimingStatus.LEFT_OUT || (leftOut && !mayTry)) {
      return false;
    }
    model = stated;
    status = statusOf(stated);
    trial = false;
    trialSeconds = 0;
    waitSeconds = FIRST_TRIAL_SECONDS;
    return true;
  }

  /** Whether a stated model that was rejected is being tried again. */
  boolean onTrial() {
    return trial;
  }

  /**
   * Uses a model once two consecutive searches agree on it, because a search over 20 s of flight
   * under moving clouds may find filters that do not exist. Returns whether the model has changed.
   */
  private boolean take(TimeModel found) {
    boolean agreed = candidate.known() && agree(found, candidate);
    candidate = found;
    searches = agreed ? 0 : searches + 1;
    if (!agreed) {
      if (searches < MOST_SEARCHES) {
        record();
      }
      if (status != TimingStatus.FOUND) {
        return false;
      }
    }
    model = agreed ? found : TimeModel.UNKNOWN;
    status = statusOf(model);
    watch.reset();
    return true;
  }

  /** Whether the results of two searches agree. */
  static boolean agree(TimeModel one, TimeModel other) {
    double delay = one.amps().delaySeconds() - one.volts().delaySeconds();
    double otherDelay = other.amps().delaySeconds() - other.volts().delaySeconds();
    return one.throttleUsed() == other.throttleUsed()
        && filtersAgree(one.volts().filterSeconds(), other.volts().filterSeconds())
        && filtersAgree(one.amps().filterSeconds(), other.amps().filterSeconds())
        && Math.abs(delay - otherDelay) < AGREED_DELAY
        && Math.abs(one.commandDelaySeconds() - other.commandDelaySeconds()) < AGREED_DELAY;
  }

  private static boolean filtersAgree(double one, double other) {
    return Math.abs(Math.log((one + AGREED_FLOOR) / (other + AGREED_FLOOR))) < AGREED_LOG;
  }

  /**
   * Number of sigmas by which the estimate is biased low because of the timing: filtered or sparse
   * readings follow a falling light with a lag. Chosen on flights with filtered and held readings,
   * in which it removes a third of the samples that are more than 5 % optimistic.
   */
  double biasSigmas() {
    double lag = model.longestFilterSeconds();
    double slow = Math.min(slowSeconds / FULL_BIAS_SECONDS, 1);
    double filtered = Math.min(lag / FULL_BIAS_SECONDS, 1);
    double live = status == TimingStatus.FOUND && search != null ? LIVE_SIGMAS : 0;
    return live + SLOW_SIGMAS * slow + FILTER_SIGMAS * filtered * (1 - slow);
  }

  /**
   * Sigma of the logarithm of the available power that an uncertain time model adds to the
   * interval. Without a model, voltage and current themselves may belong to different instants; a
   * model found in flight is based on some 20 s of readings. After a rejection there is evidence of
   * the timing's effect, so that the interval need not be as wide as during a search. Chosen on
   * simulated flights with randomly drawn loggers ({@code trial --logger}) so that the bound holds.
   */
  double timingLogSd() {
    return switch (status) {
      case STATED -> 0;
      case SEARCHING -> SEARCHING_LOG_SD;
      case FOUND -> search == null ? 0 : FOUND_LOG_SD;
      case LEFT_OUT -> LEFT_OUT_LOG_SD;
    };
  }

  TimeModel model() {
    return model;
  }

  TimingStatus status() {
    return status;
  }
}
