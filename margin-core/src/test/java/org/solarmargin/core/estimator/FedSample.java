package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertTrue;

/** Takes a sample of a flight to the point before its measurement update. */
final class FedSample {

  private FedSample() {}

  static void predict(
      AlignedFilter aligned, TestFlight flight, double volts, double amps, double celsius) {
    long nanos = Math.round(flight.seconds * 1e9);
    aligned.command(nanos, flight.throttle);
    aligned.reading(nanos, volts, amps, celsius);
    assertTrue(aligned.predict());
    aligned.filter().setAirborne(true, flight.seconds);
  }
}
