package org.solarmargin.cli.logcheck;

/**
 * Mean readings over one second in flight. Averaging over a second suppresses sensor noise and the
 * effect of most filters and delays of loggers.
 *
 * @param seconds time of the first sample, s
 * @param volts mean reading, V
 * @param amps mean reading, A
 * @param throttle mean throttle, 0 to 1
 * @param samples number of samples
 */
record FlightBlock(double seconds, double volts, double amps, double throttle, int samples) {

  private static final double ADJACENT_SECONDS = 3;

  boolean follows(FlightBlock before) {
    return before != null && seconds - before.seconds() < ADJACENT_SECONDS;
  }
}
