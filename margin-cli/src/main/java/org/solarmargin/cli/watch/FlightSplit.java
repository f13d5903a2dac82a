package org.solarmargin.cli.watch;

/**
 * Detects the start of a new flight: a take-off after a landing, or a restart of the samples' clock
 * after a flight.
 */
final class FlightSplit {

  /** Time on the ground that counts as a landing, s: common practice, no source. */
  private static final double LANDED_SECONDS = 5;

  private boolean flown;
  private boolean flying;
  private double landedAt;
  private long restarts;

  /**
   * Processes a row.
   *
   * @param seconds time of the flight, s
   * @param airborne whether the craft is in the air
   * @param clockRestarts number of clock restarts so far
   * @return whether it is the first of a new flight
   */
  boolean begins(double seconds, boolean airborne, long clockRestarts) {
    boolean takesOff = airborne && !flying && seconds - landedAt >= LANDED_SECONDS;
    boolean begins = flown && (takesOff || clockRestarts != restarts);
    landedAt = flying && !airborne ? seconds : landedAt;
    flying = airborne;
    flown = (flown && !begins) || airborne;
    restarts = clockRestarts;
    return begins;
  }
}
