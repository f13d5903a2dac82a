package org.solarmargin.cli.watch;

/**
 * When a new flight begins: at a take-off behind a landing, or where the clock of the samples has
 * started anew behind a flight.
 */
final class FlightSplit {

  /** On the ground for so long is landed, s: common practice, no source. */
  private static final double LANDED_SECONDS = 5;

  private boolean flown;
  private boolean flying;
  private double landedAt;
  private long restarts;

  /**
   * Looks at a row.
   *
   * @param seconds time of the flight, s
   * @param airborne whether the rotors carry the craft
   * @param clockRestarts so far
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
