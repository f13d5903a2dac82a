package org.solarmargin.core.estimator;

/** Readings with stated figures, for tests of what acts on them. */
public final class Readings {

  private Readings() {}

  /**
   * A reading of which status, available power and ceiling matter.
   *
   * @param status its status
   * @param availableWatts W
   * @param availableLowWatts W
   * @param ceiling 0 to 1
   * @return a new reading
   */
  public static MarginReading of(
      Status status, double availableWatts, double availableLowWatts, double ceiling) {
    MarginReading reading = new MarginReading();
    reading.set(
        status,
        availableWatts,
        availableLowWatts,
        80,
        80,
        27.5,
        ceiling,
        Double.POSITIVE_INFINITY,
        0.9,
        45);
    return reading;
  }
}
