package org.solarmargin.cli.logcheck;

/**
 * Mean readings over one second in flight. Means over a second suppress sensor noise, and the
 * filters and delays of loggers, which are shorter.
 *
 * @param seconds time of the first sample, s
 * @param volts mean reading, V
 * @param amps mean reading, A
 * @param throttle mean, 0 to 1
 * @param samples how many
 */
record FlightBlock(double seconds, double volts, double amps, double throttle, int samples) {

  private static final double ADJACENT_SECONDS = 3;

  boolean follows(FlightBlock before) {
    return before != null && seconds - before.seconds() < ADJACENT_SECONDS;
  }
}
