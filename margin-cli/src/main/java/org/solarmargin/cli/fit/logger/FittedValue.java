package org.solarmargin.cli.fit.logger;

/**
 * A value that a log determines, or leaves unknown.
 *
 * @param value the value found
 * @param sd standard error; infinite if the value is unknown
 */
record FittedValue(double value, double sd) {

  static final FittedValue UNKNOWN = new FittedValue(0, Double.POSITIVE_INFINITY);

  boolean known() {
    return sd < Double.POSITIVE_INFINITY;
  }

  /** The same value with an independent error added. */
  FittedValue withError(double more) {
    return new FittedValue(value, Math.hypot(sd, more));
  }

  /** This value, or unknown if its standard error exceeds a limit. */
  FittedValue within(double limit) {
    return sd <= limit ? this : UNKNOWN;
  }
}
