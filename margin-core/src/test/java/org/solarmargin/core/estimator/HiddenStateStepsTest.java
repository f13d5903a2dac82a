package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.util.Arrays;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;
import org.solarmargin.core.state.StateBytes;

/** Single updates from a given state and covariance against the same Kalman update in matrices. */
class HiddenStateStepsTest {

  private static final double THROTTLE = 0.5;
  private static final int ROOM = 2000;

  private final SolarArray array = TestCraft.SETTINGS.newArray();
  private final HiddenStateFilter filter = new HiddenStateFilter(TestCraft.SETTINGS, array);
  private final Sample sample = new Sample();

  /** Sigmas so small that an outlier of three sigmas moves the state by a small step. */
  @BeforeEach
  void setStateAndCovariance() {
    sample.throttle = THROTTLE;
    sample.voltsVariance = 4e-4;
    sample.ampsVariance = 2.5e-3;
    filter.start(29, 2.7, THROTTLE);
    double[] sd = new double[State.SIZE];
    sd[State.LIGHT] = 5e-4;
    sd[State.CELL] = 0.02;
    sd[State.EMF] = 1e-3;
    sd[State.GUST] = 0.01;
    sd[State.PROPULSION] = 0.02;
    sd[State.WINDING] = 1e-3;
    sd[State.AIR] = 0.5;
    sd[State.VOLTAGE_GAIN] = 1e-5;
    sd[State.CURRENT_OFFSET] = 0.01;
    setSigmas(sd);
  }

  private byte[] written() {
    byte[] room = new byte[ROOM];
    StateBytes bytes = new StateBytes(ROOM);
    bytes.startWriting(room, 0);
    filter.write(bytes);
    bytes.finishWriting();
    return room;
  }

  private void read(byte[] room) {
    StateBytes bytes = new StateBytes(ROOM);
    bytes.startReading(room, 0);
    filter.read(bytes);
  }

  private void set(int state, double value) {
    byte[] room = written();
    ByteBuffer.wrap(room).putDouble(Double.BYTES * state, value);
    read(room);
  }

  /** Sets the covariance, the last numbers of the state, to a diagonal one. */
  private void setSigmas(double... sd) {
    byte[] room = written();
    // EditedState counts the bytes of a filter's state from the number before it
    int at = EditedState.EVEN_SECONDS - EditedState.FILTER - 4 * State.SIZE * (State.SIZE + 1) / 2;
    ByteBuffer numbers = ByteBuffer.wrap(room);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = i; j < State.SIZE; j++) {
        numbers.putFloat(at, i == j ? (float) (sd[i] * sd[i]) : 0);
        at += Float.BYTES;
      }
    }
    read(room);
  }

  private double[] states() {
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, filter::state);
    return x;
  }

  private RealMatrix covariance() {
    RealMatrix p = MatrixUtils.createRealMatrix(State.SIZE, State.SIZE);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = 0; j < State.SIZE; j++) {
        p.setEntry(i, j, filter.covariance().get(i, j));
      }
    }
    return p;
  }

  /** The operating point at the filter's state, on an array of its own. */
  private static OperatingPoint solved(double[] x, double throttle) {
    SolarArray own = TestCraft.SETTINGS.newArray();
    OperatingPoint point = new OperatingPoint(own, 3.5);
    TestCraft.move(own, x);
    point.solve(x, throttle);
    point.differentiate(x, throttle, 0, 0);
    return point;
  }

  private static double square(double v) {
    return v * v;
  }

  /**
   * Above three sigmas of the voltage, the variance of the light grows until that innovation is one
   * sigma; of the current, that of the back-EMF. Slow states and constants keep their values, and
   * while the rotors spin up, half the step of the light is added to its sigma.
   */
  @ParameterizedTest
  @CsvSource({
    "3.2, 0, 5",
    "-3.2, 0, 1",
    "0, 3.3, 5",
    "0, -3.3, 1",
    "3.1, -3.4, 5",
    "2.9, 2.9, 5",
    "2.9, -3.1, 1"
  })
  void anOutlierInflatesWhatMayHaveJumped(double volts, double amps, double seconds) {
    filter.setAirborne(true, seconds);
    sample.voltsVariance = 1e-6;
    double[] x = states();
    RealMatrix p = covariance();
    OperatingPoint point = solved(x, THROTTLE);
    RealMatrix h =
        MatrixUtils.createRealMatrix(
            new double[][] {point.voltageJacobian(), point.currentJacobian()});
    RealMatrix r = MatrixUtils.createRealDiagonalMatrix(new double[] {1e-6 + 1e-6, 2.5e-3});
    RealMatrix s = h.multiply(p).multiplyTransposed(h).add(r);
    RealVector y =
        new ArrayRealVector(
            new double[] {volts * Math.sqrt(s.getEntry(0, 0)), amps * Math.sqrt(s.getEntry(1, 1))});
    sample.volts = point.volts() + y.getEntry(0);
    sample.amps = point.amps() + y.getEntry(1);
    boolean outlier = Math.max(Math.abs(volts), Math.abs(amps)) > 3;
    if (Math.abs(volts) > 3) {
      double needed = square(y.getEntry(0)) - s.getEntry(0, 0);
      p.addToEntry(State.LIGHT, State.LIGHT, needed / square(h.getEntry(0, State.LIGHT)));
    }
    if (Math.abs(amps) > 3) {
      double needed = square(y.getEntry(1)) - s.getEntry(1, 1);
      p.addToEntry(State.EMF, State.EMF, needed / square(h.getEntry(1, State.EMF)));
    }
    RealMatrix inflated = h.multiply(p).multiplyTransposed(h).add(r);
    RealMatrix gain = p.multiplyTransposed(h).multiply(MatrixUtils.inverse(inflated));
    RealVector moved = gain.operate(y);
    RealMatrix after = p.subtract(gain.multiply(inflated).multiplyTransposed(gain));
    assertTrue(filter.correct(sample, false));
    assertEquals(outlier, filter.outlier());
    for (int j : new int[] {State.LIGHT, State.EMF, State.GUST}) {
      double sd = Math.sqrt(p.getEntry(j, j));
      assertEquals(x[j] + moved.getEntry(j), filter.state(j), 1e-5 * sd, "state " + j);
      double spinUp =
          j == State.LIGHT && outlier && seconds < 3 ? square(0.5 * moved.getEntry(j)) : 0;
      assertEquals(
          after.getEntry(j, j) + spinUp,
          filter.covariance().get(j, j),
          1e-5 * p.getEntry(j, j),
          "variance " + j);
    }
    for (int j : new int[] {State.CELL, State.PROPULSION, State.WINDING, State.AIR}) {
      double step = outlier ? 0 : moved.getEntry(j);
      assertEquals(x[j] + step, filter.state(j), 1e-6, "state " + j);
      double variance = outlier ? p.getEntry(j, j) : after.getEntry(j, j);
      assertEquals(variance, filter.covariance().get(j, j), 1e-6 * variance, "variance " + j);
    }
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
    setSigmas(sd);
    filter.setAirborne(true, 5);
    double[] x = states();
    double[] brighter = x.clone();
    brighter[State.LIGHT] += 0.3;
    OperatingPoint point = solved(brighter, THROTTLE);
    sample.volts = point.volts();
    sample.amps = point.amps();
    assertTrue(filter.correct(sample, false));
    assertTrue(filter.outlierSize() < 9, "size " + filter.outlierSize());
    assertTrue(filter.outlier());
    assertTrue(filter.state(State.LIGHT) > x[State.LIGHT] + 0.2);
    assertEquals(x[State.VOLTAGE_GAIN], filter.state(State.VOLTAGE_GAIN));
    assertEquals(x[State.CELL], filter.state(State.CELL));
    // after such a step the operating point is solved, not shifted
    OperatingPoint exact = solved(states(), THROTTLE);
    assertEquals(exact.volts(), filter.volts(), 1e-5);
    assertEquals(exact.amps(), filter.amps(), 1e-5);
  }

  /** Constants stay within five stated sigmas: 0.5 % of the voltage and 3 K of the thermometer. */
  @Test
  void constantsStayWithinFiveSigmas() {
    double[] sd = new double[State.SIZE];
    sd[State.VOLTAGE_GAIN] = 0.005;
    sd[State.THERMOMETER_OFFSET] = 3;
    setSigmas(sd);
    set(State.VOLTAGE_GAIN, 0.0249);
    set(State.THERMOMETER_OFFSET, 14.99);
    filter.setAirborne(true, 5);
    double[] x = states();
    OperatingPoint point = solved(x, THROTTLE);
    sample.volts = 1.0249 * point.volts() + 0.2;
    sample.amps = point.amps();
    assertTrue(filter.correct(sample, false));
    assertEquals(0.025, filter.state(State.VOLTAGE_GAIN), 1e-12);
    filter.predict(0.02, THROTTLE);
    sample.cellCelsius = filter.state(State.CELL) + 14.99 + 8;
    assertTrue(filter.correct(sample, false));
    assertFalse(filter.thermometerLeftOut());
    assertEquals(15, filter.state(State.THERMOMETER_OFFSET), 1e-12);
  }

  /** Up to 0.4 s since the last sample constants are learned, and the held throttle acts. */
  @ParameterizedTest
  @CsvSource({"0.4, true", "0.41, false"})
  void aStepOfFourTenthsIsNoGap(double seconds, boolean learns) {
    filter.setAirborne(true, 5);
    double emf = steadyAfter(states(), seconds, learns ? THROTTLE : THROTTLE + 0.01);
    filter.predict(seconds, THROTTLE + 0.02);
    assertEquals(emf, filter.state(State.EMF), 1e-5);
    double[] x = states();
    OperatingPoint point = solved(x, THROTTLE);
    sample.volts = point.volts() + 0.03;
    sample.amps = point.amps();
    assertTrue(filter.correct(sample, false));
    assertFalse(filter.outlier());
    assertEquals(learns, x[State.VOLTAGE_GAIN] != filter.state(State.VOLTAGE_GAIN));
  }

  /** Back-EMF after a step: it relaxes within 0.12 s to the steady one at the winding's voltage. */
  private static double steadyAfter(double[] x, double seconds, double acting) {
    double volts = solved(x, THROTTLE).volts();
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
    fresh.start(30, 2.7, THROTTLE);
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, fresh::state);
    assertEquals(Math.exp(x[State.WINDING]), fresh.ohms(), 1e-12);
    fresh.predict(0.02, THROTTLE);
    assertEquals(steadyAfter(x, 0.02, THROTTLE), fresh.state(State.EMF), 1e-5);
  }

  /** Between samples, the bus voltage follows throttle, light and cells. */
  @Test
  void betweenSamplesTheOperatingPointFollows() {
    set(State.CELL, 80);
    filter.predict(0.3, 0.6);
    double[] x = states();
    assertTrue(x[State.CELL] < 79.6, "the cells cool");
    double volts = solved(x, 0.6).volts();
    double expected = relaxed(x, 0.05, 0.6 * volts);
    filter.predict(0.05, 0.6);
    assertEquals(expected, filter.state(State.EMF), 1e-6);
  }

  /**
   * Each step of a gap adds the difference of the variances to its ends: 0.01 by seconds squared.
   */
  @Test
  void stepsOfAGapAddUp() {
    filter.predict(0.5, THROTTLE);
    double before = filter.covariance().get(State.LIGHT, State.LIGHT);
    filter.predict(0.3, THROTTLE);
    double drift = 0.3 * square(filter.lightDrift());
    assertEquals(
        before + drift + 0.01 * (0.64 - 0.25),
        filter.covariance().get(State.LIGHT, State.LIGHT),
        1e-12);
  }

  @Test
  void coastingMovesTheCurveOfTheArray() {
    set(State.CELL, 80);
    double before = array.openCircuitVolts();
    filter.coast(20, THROTTLE);
    assertNotEquals(before, array.openCircuitVolts());
    SolarArray own = TestCraft.SETTINGS.newArray();
    TestCraft.move(own, states());
    assertEquals(own.openCircuitVolts(), array.openCircuitVolts(), 1e-9);
  }
}
