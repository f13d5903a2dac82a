package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.hipparchus.analysis.differentiation.DSFactory;
import org.hipparchus.analysis.differentiation.FiniteDifferencesDifferentiator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;

/** Residuals, slopes and variances against strings of single diodes ({@link ShadowModel}). */
class VoltageResidualTest {

  private static final int[] CELLS = {1, 3, 8};

  private final ShadowModel model = new ShadowModel(UnevenLightRig.SETTINGS);
  private final SolarArray array = model.array;
  private final VoltageResidual reading = new VoltageResidual();
  private final double photo;

  VoltageResidualTest() {
    array.set(0.9, 45);
    photo = array.curve().photocurrentAmps();
  }

  /** Takes a voltage at a part of the photocurrent; returns the current, A. */
  private double take(double volts, double part) {
    double amps = part * photo;
    reading.take(array, volts, amps, 4e-4, 2.5e-3, 4);
    reading.setSlowError(0.2, 0.01);
    return amps;
  }

  private static double light(int hypothesis) {
    return 0.95 - 0.05 * (hypothesis % 13);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.3, 0.62, 0.949})
  void residualsAreThoseOfTheString(double part) {
    double amps = take(20, part);
    assertEquals(20 - model.volts(amps, 0, 1), reading.residual(ShadowMixture.CLEAR), 1e-7);
    assertEquals(reading.volts(), reading.residual(ShadowMixture.CLEAR));
    for (int j = 0; j < ShadowMixture.CLEAR; j++) {
      double expected = 20 - model.volts(amps, CELLS[j / 13], light(j));
      assertEquals(expected, reading.residual(j), 1e-6 * Math.abs(expected) + 1e-5, "at " + j);
    }
    assertEquals(amps, reading.amps());
    assertEquals(photo - amps, reading.diodeAmps(), 1e-12);
    assertEquals(0.2, reading.beside());
  }

  /** The current's variance counts with the slope of the whole string, four readings as one. */
  @ParameterizedTest
  @ValueSource(doubles = {0.3, 0.62, 0.9})
  void variancesAreThoseOfTheSteeperString(double part) {
    double amps = take(20, part);
    for (int j = 0; j <= ShadowMixture.CLEAR; j++) {
      boolean clear = j == ShadowMixture.CLEAR;
      double light = clear ? 1 : light(j);
      if (light - part > 0.003) {
        int cells = clear ? 0 : CELLS[j / 13];
        double slope = slope(amps, cells, light);
        double expected = 0.01 + 4 * (4e-4 + slope * slope * 2.5e-3);
        assertEquals(expected, reading.variance(j), 1e-5 * expected, "at " + j);
        if (clear) {
          assertEquals(-slope, reading.ohms(), 1e-5 * -slope);
          assertEquals(expected - 0.01, reading.noise(), 1e-5 * expected);
        }
      }
    }
  }

  /** Beyond the photocurrent of the dim cells their slope is that of 0.2 % of the light's. */
  @Test
  void theSlopeOfDimCellsIsLimited() {
    take(20, 0.9);
    double thermal = array.curve().thermalVolts();
    double dim = thermal / (0.002 * photo) - thermal / (0.1 * photo);
    // eight cells at 0.9 and at 0.35 of the light
    for (int j : new int[] {27, 38}) {
      double slope = reading.ohms() + 8 * dim;
      double expected = 0.01 + 4 * (4e-4 + slope * slope * 2.5e-3);
      assertEquals(expected, reading.variance(j), 1e-5 * expected, "at " + j);
    }
  }

  private double slope(double amps, int cells, double light) {
    return new FiniteDifferencesDifferentiator(5, 1e-4)
        .differentiate((double i) -> model.volts(i, cells, light))
        .value(new DSFactory(1, 1).variable(0, amps))
        .getPartialDerivative(1);
  }

  /** The normal density to the power of the share of a reading, without its constant. */
  @Test
  void likelihoodsAreThoseOfAShareOfAReading() {
    take(20, 0.5);
    assertEquals(0.25, reading.information());
    double density = Math.exp(-0.5 * 0.3 * 0.3 / 0.04) / 0.2;
    assertEquals(Math.log(density), VoltageResidual.logLikelihood(0.3, 0.04, 1), 1e-12);
    // a sigma of 0.1 V of each of four readings that are one; the constant is that of the four
    double own = Math.exp(-0.5 * 0.3 * 0.3 / 0.01) / 0.1;
    double constant = -0.125 * Math.log(4);
    assertEquals(
        0.25 * Math.log(own) + constant, reading.logLikelihood(0.3, 0.04), 1e-12, "a quarter");
  }

  /** At the photocurrent the unchanged curve ends, and its slope is that of a thousandth of it. */
  @Test
  void currentsAboveThePhotocurrentAreThoseOfTheEnd() {
    take(3, 1.2);
    double end = 40 * -photo * array.curve().seriesOhms();
    assertEquals(3 - end, reading.volts(), 1e-6);
    assertEquals(0.001 * photo, reading.diodeAmps(), 1e-12);
  }
}
