package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;

/** Steps between samples, gaps, and limits of constants, from a given state. */
class HiddenStateStepsTest {

  private final GivenFilter given = new GivenFilter();

  private static double square(double v) {
    return v * v;
  }

  /**
   * A step of the light by a fifth within its sigma: constants and slow states do not take part.
   */
  @Test
  void aLargeStepOfTheLightTeachesNothing() {
    double[] sd = new double[State.SIZE];
    sd[State.LIGHT] = 0.3;
    sd[State.VOLTAGE_GAIN] = 0.005;
    sd[State.CELL] = 3;
    given.setSigmas(sd);
    given.filter.setAirborne(true, 5);
    double[] x = given.states();
    double[] brighter = x.clone();
    brighter[State.LIGHT] += 0.3;
    OperatingPoint point = GivenFilter.solved(brighter, GivenFilter.THROTTLE);
    given.sample.volts = point.volts();
    given.sample.amps = point.amps();
    assertTrue(given.filter.correct(given.sample, false));
    assertTrue(given.filter.outlierSize() < 9, "size " + given.filter.outlierSize());
    assertTrue(given.filter.outlier());
    assertTrue(given.filter.state(State.LIGHT) > x[State.LIGHT] + 0.2);
    assertEquals(x[State.VOLTAGE_GAIN], given.filter.state(State.VOLTAGE_GAIN));
    assertEquals(x[State.CELL], given.filter.state(State.CELL));
    // after such a step the operating point is solved, not shifted
    OperatingPoint exact = GivenFilter.solved(given.states(), GivenFilter.THROTTLE);
    assertEquals(exact.volts(), given.filter.volts(), 1e-5);
    assertEquals(exact.amps(), given.filter.amps(), 1e-5);
  }

  /** A reading 0.15 V above the prediction after so many seconds. */
  private static GivenFilter atEdge(double seconds, boolean throttleUsed) {
    GivenFilter edge = new GivenFilter();
    edge.filter.setAirborne(true, 5);
    edge.filter.setThrottleUsed(throttleUsed);
    edge.filter.predict(seconds, GivenFilter.THROTTLE);
    OperatingPoint point = GivenFilter.solved(edge.states(), GivenFilter.THROTTLE);
    edge.sample.volts = point.volts() + 0.15;
    edge.sample.amps = point.amps();
    return edge;
  }

  /** The same edge with the throttle left out is the reference; its update is the full one. */
  @ParameterizedTest
  @CsvSource({"0.25, 0.3", "0.2, 1"})
  void anEdgeBetweenSparseReadingsMovesTheTemperaturesByAPart(double seconds, double part) {
    GivenFilter sparse = atEdge(seconds, true);
    GivenFilter full = atEdge(seconds, false);
    double[] before = sparse.states();
    double[][] variances = sparse.covariance().getData();
    assertTrue(sparse.filter.correct(sparse.sample, false));
    assertTrue(full.filter.correct(full.sample, false));
    assertFalse(full.filter.outlier());
    assertTrue(full.filter.lightDrift() > HiddenStateFilter.LEARN_LIGHT_DRIFT);
    for (int j : new int[] {State.CELL, State.AIR}) {
      double change = full.filter.state(j) - before[j];
      double near = 1e-3 * Math.abs(change);
      assertTrue(near > 0, "change of " + j);
      assertEquals(part * change, sparse.filter.state(j) - before[j], near, "state " + j);
      double reduction = variances[j][j] - full.filter.covariance().get(j, j);
      double left = variances[j][j] - (1 - square(1 - part)) * reduction;
      double close = 1e-3 * reduction;
      assertEquals(left, sparse.filter.covariance().get(j, j), close, "variance of " + j);
    }
    assertEquals(full.filter.state(State.LIGHT), sparse.filter.state(State.LIGHT), 1e-5);
  }

  /** Constants stay within five stated sigmas: 0.5 % of the voltage and 3 K of the thermometer. */
  @Test
  void constantsStayWithinFiveSigmas() {
    double[] sd = new double[State.SIZE];
    sd[State.VOLTAGE_GAIN] = 0.005;
    sd[State.THERMOMETER_OFFSET] = 3;
    given.setSigmas(sd);
    given.set(State.VOLTAGE_GAIN, 0.0249);
    given.set(State.THERMOMETER_OFFSET, 14.99);
    given.filter.setAirborne(true, 5);
    double[] x = given.states();
    OperatingPoint point = GivenFilter.solved(x, GivenFilter.THROTTLE);
    given.sample.volts = 1.0249 * point.volts() + 0.2;
    given.sample.amps = point.amps();
    assertTrue(given.filter.correct(given.sample, false));
    assertEquals(0.025, given.filter.state(State.VOLTAGE_GAIN), 1e-12);
    given.filter.predict(0.02, GivenFilter.THROTTLE);
    given.sample.cellCelsius = given.filter.state(State.CELL) + 14.99 + 8;
    assertTrue(given.filter.correct(given.sample, false));
    assertFalse(given.filter.thermometerLeftOut());
    assertEquals(15, given.filter.state(State.THERMOMETER_OFFSET), 1e-12);
  }

  /** Up to 0.4 s since the last sample constants are learned, and the held throttle acts. */
  @ParameterizedTest
  @CsvSource({"0.4, true", "0.41, false"})
  void aStepOfFourTenthsIsNoGap(double seconds, boolean learns) {
    given.filter.setAirborne(true, 5);
    double emf =
        steadyAfter(
            given.states(), seconds, learns ? GivenFilter.THROTTLE : GivenFilter.THROTTLE + 0.01);
    given.filter.predict(seconds, GivenFilter.THROTTLE + 0.02);
    assertEquals(emf, given.filter.state(State.EMF), 1e-5);
    double[] x = given.states();
    OperatingPoint point = GivenFilter.solved(x, GivenFilter.THROTTLE);
    given.sample.volts = point.volts() + 0.03;
    given.sample.amps = point.amps();
    assertTrue(given.filter.correct(given.sample, false));
    assertFalse(given.filter.outlier());
    assertEquals(learns, x[State.VOLTAGE_GAIN] != given.filter.state(State.VOLTAGE_GAIN));
  }

  /** Back-EMF after a step: it relaxes within 0.12 s to the steady one at the winding's voltage. */
  private static double steadyAfter(double[] x, double seconds, double acting) {
    double volts = GivenFilter.solved(x, GivenFilter.THROTTLE).volts();
    return relaxed(x, seconds, acting * volts);
  }

  private static double relaxed(double[] x, double seconds, double windingVolts) {
    double propulsion = Math.exp(x[State.PROPULSION] + x[State.GUST]);
    double ohms = Math.exp(x[State.WINDING]);
    double steady = RotorLoad.steadyBackEmf(windingVolts, ohms, propulsion);
    return steady + (x[State.EMF] - steady) * Math.exp(-seconds / 0.12);
  }

  @Test
  void theBusVoltageOfTheFirstSampleIsThatOfItsState() {
    HiddenStateFilter fresh =
        new HiddenStateFilter(TestCraft.SETTINGS, TestCraft.SETTINGS.newArray());
    fresh.start(30, 2.7, GivenFilter.THROTTLE);
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, fresh::state);
    assertEquals(Math.exp(x[State.WINDING]), fresh.ohms(), 1e-12);
    fresh.predict(0.02, GivenFilter.THROTTLE);
    assertEquals(steadyAfter(x, 0.02, GivenFilter.THROTTLE), fresh.state(State.EMF), 1e-5);
  }

  /** Between samples, the bus voltage follows throttle, light and cells. */
  @Test
  void betweenSamplesTheOperatingPointFollows() {
    given.set(State.CELL, 80);
    given.filter.predict(0.3, 0.6);
    double[] x = given.states();
    assertTrue(x[State.CELL] < 79.6, "the cells cool");
    double volts = GivenFilter.solved(x, 0.6).volts();
    double expected = relaxed(x, 0.05, 0.6 * volts);
    given.filter.predict(0.05, 0.6);
    assertEquals(expected, given.filter.state(State.EMF), 1e-6);
  }

  /**
   * Each step of a gap adds the difference of the variances to its ends: 0.01 by seconds squared.
   */
  @Test
  void stepsOfAGapAddUp() {
    given.filter.predict(0.5, GivenFilter.THROTTLE);
    double before = given.filter.covariance().get(State.LIGHT, State.LIGHT);
    given.filter.predict(0.3, GivenFilter.THROTTLE);
    double drift = 0.3 * square(given.filter.lightDrift());
    assertEquals(
        before + drift + 0.01 * (0.64 - 0.25),
        given.filter.covariance().get(State.LIGHT, State.LIGHT),
        1e-12);
  }

  @Test
  void coastingMovesTheCurveOfTheArray() {
    given.set(State.CELL, 80);
    double before = given.array.openCircuitVolts();
    given.filter.coast(20, GivenFilter.THROTTLE);
    assertNotEquals(before, given.array.openCircuitVolts());
    SolarArray own = TestCraft.SETTINGS.newArray();
    TestCraft.move(own, given.states());
    assertEquals(own.openCircuitVolts(), given.array.openCircuitVolts(), 1e-9);
  }
}
