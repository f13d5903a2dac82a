package org.solarmargin.core.estimator;

/**
 * The last state before a burst of outliers, to return to when it has ended: what was learned in
 * the burst, of the cells, the rotors and of shadows, is not of this craft.
 */
final class Checkpoint {

  private static final double SPACING_SECONDS = 3;

  private final byte[] state = new byte[MarginEstimator.STATE_BYTES];
  private long nanos;
  private boolean kept;
  private double since;

  Checkpoint() {
    reset();
  }

  void reset() {
    kept = false;
    since = SPACING_SECONDS;
  }

  /** Whether the time has come to keep a state. */
  boolean due(double step) {
    since += step;
    return since >= SPACING_SECONDS;
  }

  /** Where the state of an instant goes. */
  byte[] keep(long now) {
    kept = true;
    nanos = now;
    since = 0;
    return state;
  }

  /** Whether there is a state. */
  boolean kept() {
    return kept;
  }

  /** The state kept last. */
  byte[] state() {
    return state;
  }

  /** Its instant. */
  long nanos() {
    return nanos;
  }
}
