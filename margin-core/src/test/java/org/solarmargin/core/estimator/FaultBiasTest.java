package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** The estimate is lowered after invalid readings, and returns within some minutes. */
class FaultBiasTest {

  @Test
  void theBiasFadesWithItsTimeConstant() {
    FaultBias bias = new FaultBias();
    assertEquals(0, bias.sigmas(), "nothing has happened");
    bias.follow(0.02, true);
    assertEquals(0.5, bias.sigmas());
    bias.follow(120, false);
    assertEquals(0.5 / Math.E, bias.sigmas(), 1e-15);
    bias.follow(1079, false);
    assertTrue(bias.sigmas() > 0);
    bias.follow(1, false);
    assertEquals(0, bias.sigmas(), "twenty minutes later");
    bias.follow(0.02, true);
    bias.reset();
    assertEquals(0, bias.sigmas());
  }

  @Test
  void aTimeWithoutReadingsLowersTheEstimateAndTheStateKeepsIt() {
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    MarginReading reading = new MarginReading();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    for (int i = 0; i < 500; i++) {
      flight.next();
      estimator.update(0.02, flight.busVolts, flight.busAmps, 0.5, Double.NaN, reading);
      if (i == 480) {
        estimator.coast(Math.round(flight.seconds * 1e9), reading);
      }
    }
    assertEquals(0.5 * Math.exp(-0.4 / 120), bias(estimator, reading), 0.2);
    byte[] state = new byte[MarginEstimator.STATE_BYTES];
    estimator.save(state);
    MarginEstimator other = new MarginEstimator(TestCraft.SETTINGS);
    assertTrue(other.restore(state, 0));
    byte[] again = new byte[MarginEstimator.STATE_BYTES];
    other.save(again);
    for (int i = state.length - 12; i < state.length - 4; i++) {
      assertEquals(state[i], again[i], "byte " + i);
    }
  }

  /** The bias in sigmas. */
  private static double bias(MarginEstimator estimator, MarginReading reading) {
    return Math.log(estimator.medianWatts() / reading.availableWatts()) / sigma(estimator);
  }

  /** From the alerts' bound, which is 1.6449 sigmas below the median without a shadow. */
  private static double sigma(MarginEstimator estimator) {
    return Math.log(estimator.medianWatts() / estimator.alertLowWatts()) / 1.6449;
  }
}
