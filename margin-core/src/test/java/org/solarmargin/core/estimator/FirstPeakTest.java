package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/** Compared with a scan of full single-diode curves in series, including the shunt. */
class FirstPeakTest {

  private static final double SUNS = 0.95;
  private static final double CELSIUS = 45;

  @ParameterizedTest
  @CsvSource({"1, 0.9", "1, 0.6", "3, 0.8", "3, 0.5", "8, 0.7", "8, 0.4"})
  void theClosedFormIsWithinOnePercent(int dimCells, double light) {
    SolarArray array = TestCraft.SETTINGS.newArray();
    array.set(SUNS, CELSIUS);
    CellCurve bright = TestCraft.SETTINGS.newArray().curve();
    CellCurve dim = TestCraft.SETTINGS.newArray().curve();
    bright.set(SUNS, CELSIUS);
    dim.set(light * SUNS, CELSIUS);
    int cells = array.seriesCells();
    double best = 0;
    double most = dim.shortCircuitAmps();
    for (int i = 1; i <= 4000; i++) {
      double amps = most * i / 4000;
      double volts = (cells - dimCells) * bright.voltsAt(amps) + dimCells * dim.voltsAt(amps);
      best = Math.max(best, volts * amps * array.parallelStrings());
    }
    assertEquals(best, FirstPeak.watts(array, dimCells, light), 0.01 * best);
  }

  /** Strings in parallel share voltage and currents add; a search by thousandths finds the peak. */
  @ParameterizedTest
  @CsvSource({"1, 0.9", "3, 0.5", "8, 0.35"})
  void twoStringsHaveTwiceThePowerAtThePeaksCurrent(int dimCells, double light) {
    SolarArray one = TestCraft.SETTINGS.newArray();
    SolarArray two = new SolarArray(TestCraft.SETTINGS.cell(), 48, 2);
    one.set(SUNS, CELSIUS);
    two.set(SUNS, CELSIUS);
    double watts = FirstPeak.watts(one, dimCells, light);
    assertEquals(2 * watts, FirstPeak.watts(two, dimCells, light), 1e-9 * watts);
    CellCurve bright = one.curve();
    double dimAmps = light * bright.photocurrentAmps();
    double best = 0;
    double at = 0;
    for (int i = 400; i < 1000; i++) {
      double amps = dimAmps * i / 1000;
      double diode = bright.photocurrentAmps() - amps;
      double loss = bright.thermalVolts() * Math.log((dimAmps - amps) / diode);
      double volts = 48 * bright.voltsAt(amps) + dimCells * loss;
      at = volts * amps > best ? amps : at;
      best = Math.max(best, volts * amps);
    }
    assertEquals(at, FirstPeak.amps(one, dimCells, light), 0.004 * dimAmps);
  }

  /** Below a thousandth of the photocurrent the tangent goes on, so that the law stays smooth. */
  @Test
  void theLogarithmIsContinuedByItsTangent() {
    double photo = 6;
    double bright = 1.5;
    for (double dim : new double[] {3, 0.5, 0.0061, 0.006}) {
      assertEquals(Math.log(dim / bright), FirstPeak.logCurrentRatio(dim, bright, photo), 1e-12);
    }
    for (double below : new double[] {0.001, 0.006, 0.5}) {
      double expected = Math.log(0.006 / bright) - below / 0.006;
      assertEquals(expected, FirstPeak.logCurrentRatio(0.006 - below, bright, photo), 1e-9);
    }
  }
}
