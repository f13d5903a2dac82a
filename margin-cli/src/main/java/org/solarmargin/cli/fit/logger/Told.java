package org.solarmargin.cli.fit.logger;

/**
 * A value that a log tells, or does not.
 *
 * @param value as found
 * @param sd standard error; infinite if the log does not tell the value
 */
record Told(double value, double sd) {

  static final Told UNTOLD = new Told(0, Double.POSITIVE_INFINITY);

  boolean known() {
    return sd < Double.POSITIVE_INFINITY;
  }

  /** The same with an independent error added. */
  Told withError(double more) {
    return new Told(value, Math.hypot(sd, more));
  }

  /** Not told unless it is known to better than this. */
  Told within(double limit) {
    return sd <= limit ? this : UNTOLD;
  }
}
