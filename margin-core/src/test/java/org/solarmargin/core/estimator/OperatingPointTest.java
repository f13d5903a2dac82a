package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;

/** The intersection by root finding (Hipparchus) on the balance of the currents at the bus. */
class OperatingPointTest {

  private static final double HOUSE = 3.5;
  private final SolarArray array = TestCraft.SETTINGS.newArray();
  private final OperatingPoint point = new OperatingPoint(array, HOUSE);

  private static double[] state(double suns, double celsius, double emf) {
    double[] x = new double[State.SIZE];
    x[State.LIGHT] = Math.log(suns);
    x[State.CELL] = celsius;
    x[State.EMF] = emf;
    x[State.PROPULSION] = Math.log(0.0275);
    x[State.WINDING] = Math.log(0.17);
    x[State.VOLTAGE_GAIN] = 0.05;
    x[State.CURRENT_GAIN] = -0.08;
    x[State.SERIES] = 0.1;
    return x;
  }

  /** Housekeeping takes constant power down to 0.1 V of each cell, and constant current below. */
  private double balance(double volts, double[] x, double throttle) {
    double motor = throttle * Math.max(throttle * volts - x[State.EMF], 0) / 0.17;
    return array.ampsAt(volts) - motor - HOUSE / Math.max(volts, 4.8);
  }

  private void assertSolved(double[] x, double throttle, double lowest, String when) {
    TestCraft.move(array, x);
    point.solve(x, throttle);
    double expected =
        new BrentSolver(1e-11)
            .solve(200, v -> balance(v, x, throttle), lowest, array.openCircuitVolts());
    TestCraft.move(array, x);
    assertEquals(expected, point.volts(), 1e-6, when);
    assertEquals(array.ampsAt(expected), point.amps(), 1e-5, when);
  }

  /** Every solve starts from the last point: small and large changes, and cold starts. */
  @Test
  void theCurrentsBalanceAfterSmallAndLargeChanges() {
    Random random = new Random(4);
    double[] x = state(0.9, 45, 13.5);
    double throttle = 0.5;
    for (int i = 0; i < 300; i++) {
      if (i % 3 == 0) {
        x =
            state(
                0.3 + random.nextDouble(),
                80 * random.nextDouble() - 10,
                10 + 6 * random.nextDouble());
        throttle = 0.3 + 0.3 * random.nextDouble();
      } else {
        x[State.LIGHT] += 0.01 * random.nextGaussian();
        x[State.EMF] += 0.1 * random.nextGaussian();
      }
      if (i % 7 == 0) {
        point.reset();
      }
      assertSolved(x, throttle, 10, "solve " + i);
    }
  }

  /**
   * Rotors that stand hold the bus below the voltage at which housekeeping takes its full power.
   */
  @ParameterizedTest
  @CsvSource({"0.2, 0.5", "0.3, 0.6", "0.4, 0.8"})
  void standingRotorsPullTheBusDown(double suns, double throttle) {
    double[] x = state(suns, 30, 0);
    assertSolved(x, throttle, 0, "cold");
    assertTrue(point.volts() > 0 && point.volts() < 4.8, "at " + point.volts());
    assertSolved(state(0.9, 45, 13.5), 0.5, 4.8, "bright");
    assertSolved(x, throttle, 0, "warm");
  }

  @Test
  void rotorsThatTurnFasterThanTheyAreDrivenTakeNothing() {
    double[] x = state(0.8, 40, 20);
    assertSolved(x, 0.5, 4.8, "windmilling");
    assertEquals(HOUSE, point.volts() * point.amps(), 1e-4);
    point.differentiate(x, 0.5, 0, 0);
    assertEquals(0, point.voltageJacobian()[State.EMF], 0.0);
    double perLight = point.voltageJacobian()[State.LIGHT];
    double atVolts = point.voltageJacobian()[State.VOLTAGE_GAIN];
    point.differentiate(x, 0.5, 0, 1.5);
    assertEquals(
        atVolts, point.voltageJacobian()[State.VOLTAGE_GAIN], 1e-9, "the back-EMF has no part");
    assertEquals(perLight, point.voltageJacobian()[State.LIGHT], 1e-9);
  }

  /** To first order the point moves as a solve would; gains of the sensors do not move it. */
  @ParameterizedTest
  @CsvSource({"0.001, 0", "0, 0.01", "-0.002, 0.01"})
  void aShiftMovesThePointToFirstOrder(double light, double emf) {
    double[] from = state(0.8, 42, 13.8);
    TestCraft.move(array, from);
    point.solve(from, 0.52);
    double volts = point.volts();
    double amps = point.amps();
    point.differentiate(from, 0.52, 0, 0);
    double[] to = from.clone();
    to[State.LIGHT] += light;
    to[State.EMF] += emf;
    point.shift(from, to);
    double movedVolts = point.volts() - volts;
    double movedAmps = point.amps() - amps;
    assertSolved(to, 0.52, 4.8, "moved");
    assertNotEquals(0, movedVolts);
    assertEquals(point.volts() - volts, movedVolts, 0.01 * Math.abs(movedVolts));
    assertEquals(point.amps() - amps, movedAmps, 0.01 * Math.abs(movedAmps));
    TestCraft.move(array, from);
    point.solve(from, 0.52);
    to = from.clone();
    to[State.VOLTAGE_GAIN] += 0.01;
    to[State.CURRENT_GAIN] += 0.01;
    double before = point.volts();
    point.shift(from, to);
    assertEquals(before, point.volts());
  }

  /** Light and back-EMF beside the state move the point of the Jacobian, in V and A. */
  @ParameterizedTest
  @CsvSource({"0.004, 0", "0, 0.03", "0, -0.03", "-0.004, 0.02"})
  void theJacobiansPointMovesToFirstOrder(double light, double emf) {
    double[] x = state(0.8, 42, 13.8);
    TestCraft.move(array, x);
    point.solve(x, 0.52);
    double volts = point.volts();
    double amps = point.amps();
    point.differentiate(x, 0.52, light, emf);
    // the columns of the gains are voltage and current themselves
    double atVolts = point.voltageJacobian()[State.VOLTAGE_GAIN];
    double atAmps = point.currentJacobian()[State.CURRENT_GAIN];
    double[] beside = x.clone();
    beside[State.LIGHT] += light;
    beside[State.EMF] += emf;
    assertSolved(beside, 0.52, 4.8, "beside");
    double moved = point.volts() - volts;
    assertEquals(moved, atVolts - volts, 0.05 * Math.abs(moved));
    double movedAmps = point.amps() - amps;
    assertEquals(movedAmps, atAmps - amps, 0.05 * Math.abs(movedAmps) + 2e-4);
  }

  /**
   * It moves by 0.02 V of each diode at most, here with nothing but a little resistance between.
   */
  @Test
  void theJacobiansPointStaysNearTheSolvedOne() {
    double[] x = state(0.8, 42, 13.8);
    for (double emf : new double[] {-6, 6}) {
      TestCraft.move(array, x);
      point.solve(x, 0.52);
      double volts = point.volts();
      double amps = point.amps();
      point.differentiate(x, 0.52, 0, emf);
      double atVolts = point.voltageJacobian()[State.VOLTAGE_GAIN];
      double atAmps = point.currentJacobian()[State.CURRENT_GAIN];
      double rs = array.curve().seriesOhms();
      double diode = (atVolts - volts) / 48 + rs * (atAmps - amps);
      assertEquals(Math.signum(emf) * 0.02, diode, 1e-9);
    }
  }
}
