package org.solarmargin.core.align;

/**
 * Means of voltage and current over a common short window, for readings whose filters and delays
 * are not known. Both channels then have nearly the same lag, so that a difference of up to a tenth
 * of a second between them changes the slope of the array's curve only a little. If there are
 * instants at which both readings are fresh, only those count. Readings farther apart than the
 * window pass unchanged.
 */
public final class CommonMean {

  /** Length of the window, s. Chosen on simulated flights whose current is 0.06 and 0.1 s late. */
  private static final double SECONDS = 0.15;

  /**
   * Length of the window if voltage and current are never fresh at the same instant, s. Twice the
   * other; engineering judgement, not tuned.
   */
  private static final double APART_SECONDS = 0.3;

  /**
   * If one of the two is absent for this long, s, the other passes alone. Engineering judgement,
   * not tuned.
   */
  private static final double ALONE_SECONDS = 1;

  private static final double LONGEST_GAP_SECONDS = 0.5;
  private static final double NANOS = 1e-9;

  private double sumVolts;
  private double sumAmps;
  private double pairedVolts;
  private double pairedAmps;
  private int voltsCount;
  private int ampsCount;
  private int pairs;
  private boolean started;
  private boolean due;
  private long first;
  private long last;

  /** Creates an empty window. */
  public CommonMean() {}

  /** Discards all readings. */
  public void reset() {
    started = false;
    due = false;
  }

  /**
   * Adds a reading.
   *
   * @param nanos when it was read, ns, after the last one
   * @param newVolts V; NaN if it is not fresh
   * @param newAmps A; NaN if it is not fresh
   * @return whether {@link #volts} and {@link #amps} have new values
   */
  public boolean take(long nanos, double newVolts, double newAmps) {
    if (!started || (nanos - last) * NANOS > LONGEST_GAP_SECONDS) {
      started = true;
      last = nanos;
      begin();
    } else if (due) {
      begin();
    }
    double halfStep = 0.5 * (nanos - last) * NANOS;
    last = nanos;
    add(newVolts, newAmps);
    due = (nanos - first) * NANOS >= dueSeconds() - halfStep;
    return due;
  }

  private void add(double newVolts, double newAmps) {
    boolean hasVolts = !Double.isNaN(newVolts);
    boolean hasAmps = !Double.isNaN(newAmps);
    if (hasVolts) {
      sumVolts += newVolts;
      voltsCount++;
    }
    if (hasAmps) {
      sumAmps += newAmps;
      ampsCount++;
    }
    if (hasVolts && hasAmps) {
      pairedVolts += newVolts;
      pairedAmps += newAmps;
      pairs++;
    }
  }

  private double dueSeconds() {
    if (pairs > 0) {
      return SECONDS;
    }
    return voltsCount > 0 && ampsCount > 0 ? APART_SECONDS : ALONE_SECONDS;
  }

  private void begin() {
    first = last;
    sumVolts = 0;
    sumAmps = 0;
    pairedVolts = 0;
    pairedAmps = 0;
    voltsCount = 0;
    ampsCount = 0;
    pairs = 0;
  }

  /**
   * Mean voltage, until the next reading is taken.
   *
   * @return V; NaN if there was none
   */
  public double volts() {
    return pairs > 0 ? pairedVolts / pairs : sumVolts / voltsCount;
  }

  /**
   * Mean current, until the next reading is taken.
   *
   * @return A; NaN if there was none
   */
  public double amps() {
    return pairs > 0 ? pairedAmps / pairs : sumAmps / ampsCount;
  }

  /**
   * Number of readings in the means.
   *
   * @return 1 or more
   */
  public int count() {
    return pairs > 0 ? pairs : Math.max(Math.min(voltsCount, ampsCount), 1);
  }
}
