package org.solarmargin.core.estimator;

/**
 * The last state before a burst of outliers, which is restored when the burst has ended, because
 * what was learned of cells, rotors and shadows during the burst is not valid for this craft.
 */
final class Checkpoint {

  /** Interval between saved states, s. Engineering judgement, not tuned. */
  private static final double SPACING_SECONDS = 3;

  private final byte[] state = new byte[SavedState.BYTES];
  private long nanos;
  private boolean kept;
  private float since;

  Checkpoint() {
    reset();
  }

  void reset() {
    kept = false;
    since = (float) SPACING_SECONDS;
  }

  /** Whether a new state is to be saved. */
  boolean due(double step) {
    since += (float) step;
    return since >= SPACING_SECONDS;
  }

  /** The buffer into which the state of an instant is to be written. */
  byte[] keep(long now) {
    kept = true;
    nanos = now;
    since = 0;
    return state;
  }

  /** Whether a state has been saved. */
  boolean kept() {
    return kept;
  }

  /** The state saved last. */
  byte[] state() {
    return state;
  }

  /** The instant of that state, ns. */
  long nanos() {
    return nanos;
  }
}
