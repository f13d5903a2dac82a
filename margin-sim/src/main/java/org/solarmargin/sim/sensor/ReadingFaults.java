package org.solarmargin.sim.sensor;

/**
 * What goes wrong with single samples of the log.
 *
 * @param jitterSeconds 1 sigma of the sample times
 * @param dropoutShare share of samples that are missing
 * @param spikeShare share of samples with one reading far off
 * @param freezeStart when the current reading freezes, s; infinite for never
 * @param freezeSeconds how long
 */
public record ReadingFaults(
    double jitterSeconds,
    double dropoutShare,
    double spikeShare,
    double freezeStart,
    double freezeSeconds) {

  /** Nothing goes wrong. */
  public static final ReadingFaults NONE = new ReadingFaults(0, 0, 0, Double.POSITIVE_INFINITY, 0);
}
