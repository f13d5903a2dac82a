package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Compares the fit's model with the estimator's curve and with finite differences. */
class CurrentModelTest {

  private static final double ROUNDING = 1e-9;
  private static final double DIFFERENCES = 1e-5;
  private static final int[] ALL = {0, 1, 2, 3, 4};
  private static final CellParameters CELL =
      new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005);

  private final double[] theta = DiodeParameters.of(CELL, 47);
  private final Sweep sweep = Curves.of(CELL, 48, 2, 0.8, 47, 25, 0, 1);

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void currentsAreThoseOfTheEstimatorsCurve(boolean exact) {
    SolarArray array = new SolarArray(CELL, 48, 2);
    array.set(0.8, 47);
    CurrentModel model = new CurrentModel(sweep, 0.0005, exact, ALL, theta);
    for (int i = 0; i < sweep.size(); i++) {
      assertEquals(array.ampsAt(sweep.volts(i)), model.amps(theta, i), ROUNDING);
    }
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void derivativesAreThoseOfFiniteDifferences(boolean exact) {
    CurrentModel model = new CurrentModel(sweep, 0.0005, exact, ALL, theta);
    RealMatrix jacobian = model.value(MatrixUtils.createRealVector(theta)).getSecond();
    for (int j : ALL) {
      double h = 1e-6 * Math.abs(theta[j]) + 1e-9;
      RealVector up = at(model, j, h);
      RealVector down = at(model, j, -h);
      for (int i = 0; i < sweep.size(); i++) {
        double expected = (up.getEntry(i) - down.getEntry(i)) / (2 * h);
        assertEquals(expected, jacobian.getEntry(i, j), DIFFERENCES * (1 + Math.abs(expected)));
      }
    }
  }

  /**
   * Points at temperatures other than the mean, and the derivative with respect to the coefficient.
   */
  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void currentsAtOtherTemperaturesAreThoseOfTheEstimatorsCurve(boolean exact) {
    int n = 24;
    double[] volts = new double[n];
    double[] amps = new double[n];
    double[] light = new double[n];
    double[] heat = new double[n];
    SolarArray array = new SolarArray(CELL, 48, 2);
    for (int i = 0; i < n; i++) {
      light[i] = 0.5 + 0.02 * i;
      heat[i] = 60 - 2.5 * i;
      array.set(light[i], heat[i]);
      volts[i] = array.openCircuitVolts() * i / n;
      amps[i] = array.ampsAt(volts[i]);
    }
    Sweep varied = new Sweep("test", 48, 2, volts, amps, light, heat);
    double[] there = DiodeParameters.of(CELL, varied.meanCelsius());
    int[] all = {0, 1, 2, 3, 4, DiodeParameters.COEFF};
    CurrentModel model = new CurrentModel(varied, 0.0005, exact, all, there);
    RealMatrix jacobian = model.value(MatrixUtils.createRealVector(there)).getSecond();
    for (int i = 0; i < n; i++) {
      assertEquals(amps[i], model.amps(there, i), 1e-6);
    }
    for (int j = 0; j < all.length; j++) {
      double h = 1e-6 * Math.abs(there[j]) + 1e-9;
      double[] up = there.clone();
      double[] down = there.clone();
      up[j] += h;
      down[j] -= h;
      for (int i = 0; i < n; i++) {
        double expected = (model.amps(up, i) - model.amps(down, i)) / (2 * h);
        assertEquals(expected, jacobian.getEntry(i, j), DIFFERENCES * (1 + Math.abs(expected)));
      }
    }
    double back = DiodeParameters.vocCoeff(there, varied.meanCelsius(), 0.0005);
    assertEquals(CELL.vocTempCoeffPerKelvin(), back, 1e-7);
  }

  private RealVector at(CurrentModel model, int j, double by) {
    double[] moved = theta.clone();
    moved[j] += by;
    return model.value(MatrixUtils.createRealVector(moved)).getFirst();
  }
}
