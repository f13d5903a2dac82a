package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Figures of a reading, and what follows from them. */
class MarginReadingTest {

  private static MarginReading reading() {
    MarginReading reading = new MarginReading();
    reading.setStatus(Status.COARSE);
    reading.setAvailable(160, 120);
    reading.setDemand(80, 79);
    reading.setPeak(27, 0.7);
    reading.setSecondsToZero(12);
    reading.setCells(0.9, 41);
    reading.setUnevenLight(0.2);
    reading.setThermometerLeftOut(true);
    return reading;
  }

  @Test
  void everyFigureIsInItsPlaceInReadingAndSnapshot() {
    MarginReading reading = reading();
    MarginSnapshot snapshot = reading.snapshot();
    assertEquals(
        new MarginSnapshot(Status.COARSE, 160, 120, 80, 79, 27, 0.7, 12, 0.9, 41, 0.2, true),
        snapshot);
    assertEquals(Status.COARSE, reading.status());
    assertEquals(160, reading.availableWatts());
    assertEquals(120, reading.availableLowWatts());
    assertEquals(80, reading.demandWatts());
    assertEquals(79, reading.steadyDemandWatts());
    assertEquals(27, reading.peakVolts());
    assertEquals(0.7, reading.throttleCeiling());
    assertEquals(12, reading.secondsToZero());
    assertEquals(0.9, reading.suns());
    assertEquals(41, reading.cellCelsius());
    assertEquals(0.2, reading.unevenLightProbability());
    assertTrue(reading.thermometerLeftOut());
    assertEquals(80, reading.marginWatts());
    assertEquals(40, reading.marginLowWatts());
    assertEquals(80, snapshot.marginWatts());
    assertEquals(40, snapshot.marginLowWatts());
    MarginReading other = new MarginReading();
    other.set(reading);
    assertEquals(snapshot, other.snapshot());
    other.clear();
    assertEquals(new MarginReading().snapshot(), other.snapshot());
    assertNotEquals(snapshot, other.snapshot());
    assertEquals(Status.NO_ESTIMATE, other.status());
    assertTrue(Double.isNaN(other.availableWatts()));
    assertEquals(Double.POSITIVE_INFINITY, other.secondsToZero());
    assertFalse(other.thermometerLeftOut());
  }

  /**
   * Thrust goes with the two thirds' power of the power: 8 times the power lifts 4 times as much.
   */
  @Test
  void liftGoesWithTheTwoThirdsPowerOfThePower() {
    MarginReading reading = reading();
    reading.setAvailable(640, 640);
    assertEquals(300, reading.liftReservePercent(), 1e-9);
    assertEquals(300, reading.snapshot().liftReservePercent(), 1e-9);
    reading.setAvailable(80, 80);
    assertEquals(0, reading.liftReservePercent(), 1e-9);
    reading.setAvailable(10, 10);
    assertEquals(-75, reading.liftReservePercent(), 1e-9);
    // 31.62 times the power is 10 times the lift, the most that is told; none at all is no fault
    reading.setAvailable(80 * Math.sqrt(1000) * 0.99, 1);
    assertEquals(100 * (10 * Math.pow(0.99, 2.0 / 3) - 1), reading.liftReservePercent(), 1e-9);
    reading.setAvailable(80 * 32, 1);
    assertEquals(900, reading.liftReservePercent());
    reading.setDemand(0, 0);
    assertEquals(900, reading.liftReservePercent());
  }

  @ParameterizedTest
  @EnumSource(Status.class)
  void threeStatusesBearAMarginTwoOfThemBeforeTheKnee(Status status) {
    boolean before = status == Status.SHARP || status == Status.COARSE;
    assertEquals(before, status.beforeKnee());
    assertEquals(before || status == Status.PAST_KNEE, status.bearsMargin());
  }
}
