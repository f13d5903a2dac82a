package org.solarmargin.core.align;

/**
 * Means of voltage and current over one short time, for readings whose filters and delays are not
 * known: both become equally slow, so that what lies between them, up to a tenth of a second, tilts
 * the slope of the array's curve by little. Of readings at instants where both are fresh only those
 * count. Readings farther apart than the time pass as they are.
 */
public final class CommonMean {

  /** Over which means are taken. Chosen on flights whose current is 0.06 and 0.1 s late. */
  private static final double SECONDS = 0.15;

  /** The same where voltage and current are never fresh at one instant. */
  private static final double APART_SECONDS = 0.3;

  /** Where one of the two is absent for so long, the other passes alone. */
  private static final double ALONE_SECONDS = 1;

  private static final double LONGEST_GAP_SECONDS = 0.5;
  private static final double NANOS = 1e-9;

  private final Sum volts = new Sum();
  private final Sum amps = new Sum();
  private final Sum pairedVolts = new Sum();
  private final Sum pairedAmps = new Sum();
  private boolean started;
  private long first;
  private long last;
  private double meanVolts;
  private double meanAmps;
  private int count = 1;

  /** Means of nothing. */
  public CommonMean() {}

  /** Forgets what it has taken. */
  public void reset() {
    started = false;
  }

  /**
   * Takes a reading.
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
      begin(nanos);
    }
    double halfStep = 0.5 * (nanos - last) * NANOS;
    last = nanos;
    volts.add(newVolts);
    amps.add(newAmps);
    if (!Double.isNaN(newVolts + newAmps)) {
      pairedVolts.add(newVolts);
      pairedAmps.add(newAmps);
    }
    boolean paired = pairedVolts.count > 0;
    if ((nanos - first) * NANOS < dueSeconds(paired) - halfStep) {
      return false;
    }
    meanVolts = paired ? pairedVolts.mean() : volts.mean();
    meanAmps = paired ? pairedAmps.mean() : amps.mean();
    count = paired ? pairedVolts.count : Math.max(Math.min(volts.count, amps.count), 1);
    begin(nanos);
    return true;
  }

  private double dueSeconds(boolean paired) {
    if (paired) {
      return SECONDS;
    }
    return volts.count > 0 && amps.count > 0 ? APART_SECONDS : ALONE_SECONDS;
  }

  private void begin(long nanos) {
    first = nanos;
    volts.clear();
    amps.clear();
    pairedVolts.clear();
    pairedAmps.clear();
  }

  /**
   * Mean voltage.
   *
   * @return V; NaN if there was none
   */
  public double volts() {
    return meanVolts;
  }

  /**
   * Mean current.
   *
   * @return A; NaN if there was none
   */
  public double amps() {
    return meanAmps;
  }

  /**
   * How many readings the means are of.
   *
   * @return 1 or more
   */
  public int count() {
    return count;
  }

  /** Sum of what is not NaN. */
  private static final class Sum {

    private double total;
    private int count;

    void add(double value) {
      if (!Double.isNaN(value)) {
        total += value;
        count++;
      }
    }

    double mean() {
      return count > 0 ? total / count : Double.NaN;
    }

    void clear() {
      total = 0;
      count = 0;
    }
  }
}
