package org.solarmargin.core.estimator;

import org.solarmargin.core.align.Sample;

/**
 * Saves the state now and then, and returns to it after readings that were not the craft's. A step
 * of the readings before any state was saved reinitialises the estimate, because nothing tells
 * which side of it is valid.
 */
final class Recovery {

  /**
   * Change of the estimate's logarithm during an excursion from which on it is undone. With 0.03,
   * spikes of rough sensors undid the estimate as well.
   */
  private static final double CHANGED_LOG = 0.1;

  /** Time in the air from which on readings off the load line are foreign, s. */
  private static final double FOREIGN_FROM_SECONDS = 1.5;

  private final AlignedFilter main;
  private final PowerPeak peak;
  private final LiveTiming timing;
  private final AirborneWatch flight;
  private final SavedState saved;
  private final OutlierWatch outliers = new OutlierWatch();
  private final Checkpoint checkpoint = new Checkpoint();
  private final ExcursionWatch excursion = new ExcursionWatch();

  private final ConsistencyWatch consistency = new ConsistencyWatch();

  /** Whether the stated time model was already rejected before the excursion. */
  private boolean leftOut;

  private float deferredSize;
  private boolean deferredForeign;

  Recovery(
      AlignedFilter main,
      PowerPeak peak,
      LiveTiming timing,
      AirborneWatch flight,
      SavedState saved) {
    this.main = main;
    this.peak = peak;
    this.timing = timing;
    this.flight = flight;
    this.saved = saved;
  }

  void reset() {
    outliers.reset();
    consistency.reset();
    excursion.reset();
    checkpoint.reset();
    deferredSize = 0;
    deferredForeign = false;
    leftOut = false;
  }

  /** Forgets the saved state, because the estimate is reinitialised. */
  void forget() {
    checkpoint.reset();
    if (!excursion.blind()) {
      excursion.reset();
    }
  }

  /** Whether the last samples contain so many outliers that they are not to be learned from. */
  boolean burst() {
    return outliers.burst();
  }

  /**
   * Processes one sample after its measurement update.
   *
   * @param deferred whether it is an outlier whose update is deferred
   * @param past whether the operating point is past the knee
   * @param near whether it is so near that a shadow on a few cells makes steps
   * @param estimate available power before the sample, W
   * @return true if the estimate must be reinitialised
   */
  boolean follow(double step, boolean deferred, boolean past, boolean near, double estimate) {
    boolean before = outliers.burst();
    boolean converged = flight.seconds() > MarginEstimator.WATCHED_FROM_SECONDS;
    boolean outlier = deferred || main.filter().outlier();
    boolean ended = outliers.follow(step, outlier && converged && !past);
    ended |= consistency.follow(step, main.filter().innovations().normalised());
    boolean began = !excursion.back();
    boolean back = followExcursion(step, deferred, past, near);
    if (began && excursion.back()) {
      excursion.note(changed(estimate));
    }
    if (excursion.settled() && !checkpoint.kept()) {
      excursion.reinitialised();
      return true;
    }
    if (outliers.burst() && !before) {
      timing.disturbed();
    }
    if (back) {
      return !judgeReturn();
    }
    if (excursion.awaitsReturn() && checkpoint.kept() && returned(step)) {
      undo(changed(estimate));
    }
    if (ended) {
      return !recover();
    }
    if (outliers.quiet() && !excursion.stepped() && converged && checkpoint.due(step)) {
      saved.write(checkpoint.keep(main.sample().nanos));
    }
    return false;
  }

  /** Follows the steps of the readings; returns whether a later one is to be judged. */
  private boolean followExcursion(double step, boolean deferred, boolean past, boolean near) {
    HiddenStateFilter filter = main.filter();
    // the rotors' speed after a gap is not known
    boolean offLoadLine = filter.offLoadLine() && step <= Transition.GAP_SECONDS;
    if (deferred) {
      // a step if the next sample confirms it, otherwise a spike
      deferredSize = (float) Math.max(deferredSize, filter.outlierSize());
      deferredForeign |= offLoadLine;
    }
    boolean confirmed = !deferred && filter.outlier();
    boolean started = excursion.blind() || flight.seconds() > HiddenStateFilter.SETTLED_SECONDS;
    // near the knee and past it, a shadow on a few cells makes steps that must not be undone
    boolean watched = confirmed && started && !past && (excursion.stepped() || !near);
    boolean early = confirmed && (started || flight.seconds() > FOREIGN_FROM_SECONDS);
    double size = watched ? Math.max(filter.outlierSize(), deferredSize) : 0;
    boolean foreign = early && (offLoadLine || deferredForeign);
    boolean back = excursion.follow(step, size, foreign, main.sample().throttle);
    if (!deferred) {
      deferredSize = 0;
      deferredForeign = false;
    }
    if (!excursion.stepped()) {
      leftOut = timing.status() == TimingStatus.LEFT_OUT;
    }
    return back;
  }

  /** Whether the readings have returned after a foreign step. */
  private boolean returned(double step) {
    Sample sample = main.sample();
    double[] states = savedStates();
    double load = main.filter().loadRatio(states, sample);
    boolean explained = main.filter().explains(states, sample);
    return excursion.returned(step, explained, load, sample.throttle);
  }

  /**
   * After a later step of an excursion: restores the saved state if it explains the present sample
   * and the estimate had changed. If it does not explain it, the return may follow yet.
   *
   * @return false if the estimate must be reinitialised
   */
  private boolean judgeReturn() {
    if (!checkpoint.kept()) {
      return false;
    }
    if (!explains()) {
      return excursion.awaitsReturn() || !excursion.unsettled();
    }
    undo(excursion.changed());
    return true;
  }

  /** Restores the saved state if the readings of an excursion have changed the estimate. */
  private void undo(boolean changed) {
    if (timing.returned(leftOut)) {
      main.configure(timing.model());
    }
    if (changed || excursion.lasted()) {
      restore();
    }
    excursion.reset();
  }

  /** After a burst: restores the saved state; false if it does not explain the present sample. */
  private boolean recover() {
    timing.disturbed();
    if (!explains()) {
      return false;
    }
    restore();
    checkpoint.reset();
    return true;
  }

  /** Whether an estimate differs from that of the saved state by {@link #CHANGED_LOG} or more. */
  private boolean changed(double estimate) {
    if (!checkpoint.kept()) {
      return false;
    }
    main.filter().moveCurve(savedStates());
    peak.solve();
    main.filter().moveCurve();
    return Math.abs(Math.log(peak.watts() / estimate)) > CHANGED_LOG;
  }

  /** Whether the saved state explains the present sample. */
  private boolean explains() {
    return checkpoint.kept() && main.filter().explains(savedStates(), main.sample());
  }

  /** The states of the filter in the saved state; valid until the filter's next step. */
  private double[] savedStates() {
    double[] states = main.filter().covariance().form();
    saved.readStates(checkpoint.state(), states);
    return states;
  }

  private void restore() {
    main.filter().reset();
    saved.restoreEstimate(checkpoint.state());
    main.returnFrom(checkpoint.nanos());
  }
}
