package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.timing.TimeModel;

/** What is believed before the first sample, and where states are kept: sums by hand. */
class PriorAndBoundsTest {

  private static final EstimatorSettings SETTINGS = TestCraft.SETTINGS;
  private final Prior prior = new Prior(SETTINGS);

  /** Hover of 78 W at 0.5 x 29 V, 3.5 W of it not the motors'; copper takes 6 %. */
  @Test
  void theRotorIsThatOfTheHover() {
    double ohms = 0.06 * 14.5 * 14.5 / 74.5;
    assertEquals(Math.log(ohms), prior.logWinding(), 1e-12);
    double emf = 0.94 * 14.5;
    assertEquals(Math.log(74.5 / 14.5 / (emf * emf)), prior.logPropulsion(), 1e-12);
  }

  @Test
  void theFirstCovarianceIsThatOfItsParts() {
    double[] x = new double[State.SIZE];
    java.util.Arrays.fill(x, 7);
    Covariance p = new Covariance();
    for (int i = 0; i < State.UNFILTERED; i++) {
      for (int j = i; j < State.UNFILTERED; j++) {
        p.set(i, j, 7);
      }
    }
    prior.fill(x, p);
    assertEquals(Math.log(0.85), x[State.LIGHT]);
    assertEquals(22 + 0.85 * 25, x[State.CELL], 1e-12);
    assertEquals(0, x[State.EMF]);
    assertEquals(0, x[State.GUST]);
    assertEquals(0, x[State.AIR]);
    assertEquals(prior.logPropulsion(), x[State.PROPULSION]);
    assertEquals(prior.logWinding(), x[State.WINDING]);
    double rise = 0.85 * 25;
    double[][] expected = new double[State.UNFILTERED][State.UNFILTERED];
    expected[State.LIGHT][State.LIGHT] = 0.09;
    // cells: air, what the light makes of the rise, and 2 K of their own
    expected[State.CELL][State.CELL] = 36 + rise * rise * 0.09 + 4;
    expected[State.CELL][State.LIGHT] = rise * 0.09;
    expected[State.LIGHT][State.CELL] = rise * 0.09;
    expected[State.CELL][State.AIR] = 36;
    expected[State.AIR][State.CELL] = 36;
    expected[State.AIR][State.AIR] = 36;
    expected[State.EMF][State.EMF] = 7.25 * 7.25;
    expected[State.GUST][State.GUST] = 0.04;
    expected[State.PROPULSION][State.PROPULSION] = 0.15 * 0.15;
    expected[State.WINDING][State.WINDING] = 0.25;
    double[] constants = {0.005, 0.015, 0.05, 0, 0, 0, 3};
    constants[3] = SETTINGS.cellSpread().seriesLogSd();
    constants[4] = SETTINGS.cellSpread().idealityLogSd();
    constants[5] = SETTINGS.cellSpread().vocCoeffSdPerKelvin();
    for (int j = 0; j < constants.length; j++) {
      int at = State.ESTIMATED + j;
      assertEquals(constants[j], prior.constantSd(at));
      expected[at][at] = constants[j] * constants[j];
    }
    for (int i = 0; i < State.UNFILTERED; i++) {
      assertTrue(i < State.ESTIMATED || x[i] == 0);
      for (int j = 0; j < State.UNFILTERED; j++) {
        assertEquals(expected[i][j], p.get(i, j), 1e-12, i + " and " + j);
      }
    }
  }

  @Test
  void aGuessedHoverIsLessSure() {
    EstimatorSettings guessed =
        new EstimatorSettings(
            SETTINGS.cell(),
            SETTINGS.cellSpread(),
            48,
            1,
            SETTINGS.thermal(),
            new EstimatorSettings.Rotor(0.5, 78, 29, false, 3.5),
            SETTINGS.sensors(),
            TimeModel.SIMULTANEOUS);
    Covariance p = new Covariance();
    new Prior(guessed).fill(new double[State.SIZE], p);
    assertEquals(0.49, p.get(State.PROPULSION, State.PROPULSION), 1e-12);
    assertEquals(EstimatorSettings.DEFAULT_SHADOW_SHARE, guessed.shadowShare());
  }

  @Test
  void theAirIsCooledByRotorsAlone() {
    assertEquals(6, Prior.initialAirSd(true));
    assertEquals(12, Prior.initialAirSd(false));
    assertEquals(3, Prior.airSd(true));
    assertEquals(12, Prior.airSd(false));
  }

  @ParameterizedTest
  @ValueSource(doubles = {-1e6, 1e6})
  void statesAreKeptWherePhysicsHasThem(double far) {
    SolarArray array = SETTINGS.newArray();
    StateBounds bounds = new StateBounds(prior, array);
    boolean high = far > 0;
    double[] x = new double[State.SIZE];
    java.util.Arrays.fill(x, far);
    bounds.apply(x);
    assertEquals(Math.log(high ? 2.2 : 1e-3), x[State.LIGHT]);
    assertEquals(high ? 130 : -50, x[State.CELL]);
    array.set(2.2, -50);
    assertEquals(high ? array.openCircuitVolts() : 0, x[State.EMF], 1e-9);
    assertEquals(high ? 1 : -1, x[State.GUST]);
    double sign = high ? 1 : -1;
    assertEquals(prior.logPropulsion() + sign * 2.5, x[State.PROPULSION]);
    assertEquals(prior.logWinding() + sign * 2.5, x[State.WINDING]);
    assertEquals(sign * 60, x[State.AIR]);
    assertEquals(far, x[State.VOLTAGE_GAIN], "constants are for applyToConstants");
    bounds.applyToConstants(x);
    for (int j = State.ESTIMATED; j < State.UNFILTERED; j++) {
      assertEquals(sign * 5 * prior.constantSd(j), x[j], 1e-12);
    }
    assertEquals(far, x[State.FILTERED_VOLTS], "what filters hold is free");
  }

  @Test
  void aStateIsHealthyWhereItIsFiniteAndItsVariancesAre() {
    double[] x = new double[State.SIZE];
    Covariance p = new Covariance(true);
    assertTrue(StateBounds.healthy(x, p));
    for (int j = 0; j < State.SIZE; j++) {
      for (double wrong : new double[] {Double.NaN, 1e9, -1e9}) {
        x[j] = wrong;
        assertFalse(StateBounds.healthy(x, p), "state " + j + ": " + wrong);
        x[j] = 0;
      }
      for (double wrong : new double[] {Double.NaN, 1e9, -1e-9}) {
        p.set(j, j, wrong);
        assertFalse(StateBounds.healthy(x, p), "variance " + j + ": " + wrong);
        p.set(j, j, 0);
      }
    }
    assertTrue(StateBounds.healthy(x, p));
  }

  /** On the far side of the peak the curve gives a lower power at a higher voltage. */
  @Test
  void aLowerPowerIsGivenAboveThePeaksVoltage() {
    SolarArray array = SETTINGS.newArray();
    array.set(0.8, 45);
    PowerPeak peak = new PowerPeak(array);
    peak.solve();
    array.solvePeak();
    assertEquals(array.peakVolts(), peak.volts(), 1e-4);
    assertEquals(array.peakWatts(), peak.watts(), 1e-6);
    for (double share : new double[] {0.05, 0.3, 0.6, 0.9, 0.98, 0.999}) {
      double volts = peak.voltsAbove(share * peak.watts());
      assertTrue(volts > peak.volts());
      assertEquals(share * peak.watts(), volts * array.ampsAt(volts), 1e-4 * peak.watts());
    }
    assertEquals(array.openCircuitVolts(), peak.voltsAbove(-5), 1e-9, "no power at all");
    assertEquals(peak.volts(), peak.voltsAbove(peak.watts()), 1e-3);
    double justBelow = peak.watts();
    for (int i = 0; i < 100; i++) {
      justBelow = Math.nextDown(justBelow);
      assertEquals(peak.volts(), peak.voltsAbove(justBelow), 1e-3, "rounding at the peak");
    }
  }

  @Test
  void settingsOutOfRangeAreNamed() {
    String message =
        assertThrows(
                IllegalArgumentException.class, () -> new EstimatorSettings.Thermal(61, 25, 15))
            .getMessage();
    assertTrue(message.contains("ambientCelsius") && message.contains("61"), message);
    assertThrows(IllegalArgumentException.class, () -> new EstimatorSettings.Thermal(-61, 25, 15));
    assertThrows(
        IllegalArgumentException.class, () -> new EstimatorSettings.Thermal(Double.NaN, 25, 15));
    assertThrows(
        IllegalArgumentException.class,
        () -> new EstimatorSettings.Rotor(0.5, 3.5, 29, true, 3.5),
        "nothing is left for the motors");
    assertEquals(60, new EstimatorSettings.Thermal(60, 90, 0.5).ambientCelsius());
  }
}
