package org.solarmargin.sim.sensor;

/**
 * Faults of single samples of the log.
 *
 * @param jitterSeconds 1 sigma of the sample times, s
 * @param dropoutShare share of samples that are missing
 * @param spikeShare share of samples in which one reading is a spike
 * @param freezeStart when the current reading freezes, s; infinite for never
 * @param freezeSeconds duration of the freeze, s
 */
public record ReadingFaults(
    double jitterSeconds,
    double dropoutShare,
    double spikeShare,
    double freezeStart,
    double freezeSeconds) {

  /** No faults. */
  public static final ReadingFaults NONE = new ReadingFaults(0, 0, 0, Double.POSITIVE_INFINITY, 0);
}
