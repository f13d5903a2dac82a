package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;

/** Measurement Jacobian and the peak's gradient against differences, before and past the knee. */
class DerivativesTest {

  private static final double STEP = 1e-5;

  private final EstimatorSettings settings = TestCraft.SETTINGS;
  private final SolarArray array = settings.newArray();
  private final OperatingPoint point =
      new OperatingPoint(array, settings.rotor().housekeepingWatts());
  private final PowerPeak peak = new PowerPeak(array);

  private static double[] state(double emf) {
    double[] x = new double[State.SIZE];
    x[State.LIGHT] = Math.log(0.8);
    x[State.CELL] = 42;
    x[State.EMF] = emf;
    x[State.PROPULSION] = Math.log(0.0275);
    x[State.WINDING] = Math.log(0.17);
    x[State.VOLTAGE_GAIN] = 0.01;
    x[State.CURRENT_GAIN] = -0.02;
    x[State.SERIES] = 0.1;
    x[State.IDEALITY] = 0.01;
    x[State.VOC_COEFF] = 1e-4;
    return x;
  }

  private double[] readings(double[] x) {
    TestCraft.move(array, x);
    point.reset();
    point.solve(x, 0.52);
    return new double[] {
      (1 + x[State.VOLTAGE_GAIN]) * point.volts(),
      (1 + x[State.CURRENT_GAIN]) * point.amps() + x[State.CURRENT_OFFSET]
    };
  }

  @ParameterizedTest
  @ValueSource(doubles = {14.0, 13.5, 11, 6})
  void jacobianEqualsFiniteDifferences(double emf) {
    double[] x = state(emf);
    TestCraft.move(array, x);
    point.solve(x, 0.52);
    point.differentiate(x, 0.52, 0, 0);
    double[] volts = point.voltageJacobian().clone();
    double[] amps = point.currentJacobian().clone();
    for (int j = 0; j < State.SIZE; j++) {
      double[] up = x.clone();
      double[] down = x.clone();
      up[j] += STEP;
      down[j] -= STEP;
      double[] a = readings(up);
      double[] b = readings(down);
      double dVolts = (a[0] - b[0]) / (2 * STEP);
      double dAmps = (a[1] - b[1]) / (2 * STEP);
      assertEquals(dVolts, volts[j], 1e-3 * (0.01 + Math.abs(dVolts)), "volts by state " + j);
      assertEquals(dAmps, amps[j], 1e-3 * (0.01 + Math.abs(dAmps)), "amps by state " + j);
    }
  }

  /** The Jacobian near the solved point equals that of the point solved there, to first order. */
  @ParameterizedTest
  @ValueSource(doubles = {14.0, 13.5, 12})
  void jacobianNextToThePointEqualsThatSolvedThere(double emf) {
    double lightShift = 0.01;
    double emfShift = -0.1;
    double[] x = state(emf);
    TestCraft.move(array, x);
    point.solve(x, 0.52);
    point.differentiate(x, 0.52, 0, 0);
    double[] here = point.voltageJacobian().clone();
    point.differentiate(x, 0.52, lightShift, emfShift);
    double[] volts = point.voltageJacobian().clone();
    double[] amps = point.currentJacobian().clone();
    x[State.LIGHT] += lightShift;
    x[State.EMF] += emfShift;
    TestCraft.move(array, x);
    point.solve(x, 0.52);
    point.differentiate(x, 0.52, 0, 0);
    double most = 0;
    for (int j = 0; j < State.SIZE; j++) {
      double change = Math.abs(point.voltageJacobian()[j] - here[j]);
      double scale = 0.01 + Math.abs(here[j]);
      assertEquals(
          point.voltageJacobian()[j], volts[j], 0.3 * change + 0.01 * scale, "volts by " + j);
      assertEquals(
          point.currentJacobian()[j], amps[j], 0.02 * (0.01 + Math.abs(amps[j])), "amps by " + j);
      most = Math.max(most, change / scale);
    }
    assertTrue(most > 0.02, "the shift must be noticeable: " + most);
  }

  @ParameterizedTest
  @ValueSource(ints = {State.LIGHT, State.CELL, State.SERIES, State.IDEALITY, State.VOC_COEFF})
  void gradientEqualsFiniteDifferences(int j) {
    double[] x = state(13.5);
    TestCraft.move(array, x);
    peak.solve();
    double slope = FilterModel.gradient(peak)[j];
    double[] y = x.clone();
    y[j] += STEP;
    TestCraft.move(array, y);
    peak.solve();
    double up = Math.log(peak.watts());
    y[j] -= 2 * STEP;
    TestCraft.move(array, y);
    peak.solve();
    assertEquals((up - Math.log(peak.watts())) / (2 * STEP), slope, 1e-5);
  }
}
