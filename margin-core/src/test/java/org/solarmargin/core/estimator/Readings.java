package org.solarmargin.core.estimator;

/** Readings with given figures, for tests of their users. */
public final class Readings {

  private Readings() {}

  /**
   * A reading with given status, available power and ceiling.
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
    reading.setStatus(status);
    reading.setAvailable(availableWatts, availableLowWatts);
    reading.setDemand(80, 80);
    reading.setPeak(27.5, ceiling);
    reading.setCells(0.9, 45);
    return reading;
  }
}
