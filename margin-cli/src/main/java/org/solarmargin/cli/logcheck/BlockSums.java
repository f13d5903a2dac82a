package org.solarmargin.cli.logcheck;

/**
 * Sums of the readings of one block; each column keeps its latest value, since they may arrive in
 * different rows.
 */
final class BlockSums {

  private double lastVolts = Double.NaN;
  private double lastAmps = Double.NaN;
  private double lastThrottle = Double.NaN;
  private double volts;
  private double amps;
  private double throttle;
  private int samples;

  BlockSums() {}

  /** Adds a line, unless it has no reading or a column has no usable value yet. */
  void take(double busVolts, double busAmps, double command) {
    boolean reads = !Double.isNaN(busVolts) || !Double.isNaN(busAmps);
    lastVolts = Double.isNaN(busVolts) ? lastVolts : busVolts;
    lastAmps = Double.isNaN(busAmps) ? lastAmps : busAmps;
    lastThrottle = Double.isNaN(command) ? lastThrottle : command;
    if (!reads
        || !Double.isFinite(lastVolts + lastAmps)
        || !(lastThrottle >= 0 && lastThrottle <= 1)) {
      return;
    }
    volts += lastVolts;
    amps += lastAmps;
    throttle += lastThrottle;
    samples++;
  }

  int samples() {
    return samples;
  }

  /** Ends the block that began at a time; null if it has no samples. */
  FlightBlock end(double start) {
    FlightBlock block =
        samples == 0
            ? null
            : new FlightBlock(start, volts / samples, amps / samples, throttle / samples, samples);
    volts = 0;
    amps = 0;
    throttle = 0;
    samples = 0;
    return block;
  }
}
