package org.solarmargin.cli.fit.logger;

/**
 * A value that a log determines, or leaves unknown.
 *
 * @param value the value found
 * @param sd standard error; infinite if the value is unknown
 */
record Told(double value, double sd) {

  static final Told UNTOLD = new Told(0, Double.POSITIVE_INFINITY);

  boolean known() {
    return sd < Double.POSITIVE_INFINITY;
  }

  /** The same value with an independent error added. */
  Told withError(double more) {
    return new Told(value, Math.hypot(sd, more));
  }

  /** This value, or unknown if its standard error exceeds a limit. */
  Told within(double limit) {
    return sd <= limit ? this : UNTOLD;
  }
}
