package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.LUDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.timing.TimeModel;

/** What the filter does beside the plain update: outliers, gaps, thermometer, take-off, state. */
class HiddenStateFilterTest {

  private static final double NONE = Double.NaN;
  private static final int[] SLOW = {State.CELL, State.PROPULSION, State.WINDING, State.AIR};

  private final AlignedFilter aligned =
      new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
  private final HiddenStateFilter filter = aligned.filter();
  private final TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);

  /** Takes the next sample to the point before its correction. */
  private static void predict(AlignedFilter aligned, TestFlight flight, double celsius) {
    flight.next();
    FedSample.predict(aligned, flight, flight.busVolts, flight.busAmps, celsius);
  }

  private static void fly(AlignedFilter aligned, TestFlight flight, double seconds) {
    while (flight.seconds < seconds) {
      predict(aligned, flight, NONE);
      assertTrue(aligned.correct(false));
    }
  }

  private static double[] states(HiddenStateFilter filter) {
    double[] x = new double[State.SIZE];
    for (int j = 0; j < x.length; j++) {
      x[j] = filter.state(j);
    }
    return x;
  }

  private static double[][] covariances(HiddenStateFilter filter) {
    double[][] p = new double[State.SIZE][State.SIZE];
    for (int i = 0; i < p.length; i++) {
      for (int j = 0; j < p.length; j++) {
        p[i][j] = filter.covariance().get(i, j);
      }
    }
    return p;
  }

  /** Logarithm of the normal density of the first sample, without its constant; chi-squared. */
  @Test
  void innovationsAreThoseOfTheNormalDensity() {
    predict(aligned, flight, NONE);
    double[] x = states(filter);
    RealMatrix p = MatrixUtils.createRealMatrix(covariances(filter));
    SolarArray array = TestCraft.SETTINGS.newArray();
    OperatingPoint point = new OperatingPoint(array, 3.5);
    TestCraft.move(array, x);
    point.solve(x, flight.throttle);
    point.differentiate(x, flight.throttle, 0, 0);
    RealMatrix h =
        MatrixUtils.createRealMatrix(
            new double[][] {point.voltageJacobian(), point.currentJacobian()});
    RealMatrix s =
        h.multiply(p)
            .multiplyTransposed(h)
            .add(
                MatrixUtils.createRealDiagonalMatrix(
                    new double[] {0.02 * 0.02 + 1e-6, 0.05 * 0.05}));
    RealVector y =
        new ArrayRealVector(
            new double[] {flight.busVolts - point.volts(), flight.busAmps - point.amps()});
    double squared = MatrixUtils.inverse(s).operate(y).dotProduct(y);
    assertTrue(aligned.correct(false));
    assertEquals(squared, filter.innovations().normalised(), 1e-6 * squared);
    assertEquals(y.getEntry(1) / Math.sqrt(s.getEntry(1, 1)), filter.innovations().amps(), 1e-6);
    double share = s.getEntry(0, 1) / s.getEntry(1, 1);
    assertEquals(
        (y.getEntry(0) - share * y.getEntry(1))
            / Math.sqrt(s.getEntry(0, 0) - share * s.getEntry(0, 1)),
        filter.innovations().volts(),
        1e-6);
    double logDeterminant = Math.log(new LUDecomposition(s).getDeterminant());
    assertEquals(-0.5 * (logDeterminant + squared), filter.innovations().logLikelihood(), 1e-6);
    double size =
        Math.max(
            y.getEntry(0) * y.getEntry(0) / s.getEntry(0, 0),
            y.getEntry(1) * y.getEntry(1) / s.getEntry(1, 1));
    assertEquals(size, filter.outlierSize(), 1e-6);
    assertFalse(filter.outlier());
  }

  @Test
  void aSampleFarOffMayBeDeferredAndThenMovesNothing() {
    fly(aligned, flight, 4);
    flight.next();
    FedSample.predict(aligned, flight, flight.busVolts / 2, flight.busAmps, NONE);
    double[] x = states(filter);
    double[][] p = covariances(filter);
    assertFalse(aligned.correct(true));
    assertTrue(filter.outlierSize() > 30);
    for (int j = 0; j < State.UNFILTERED; j++) {
      assertEquals(x[j], filter.state(j));
      assertEquals(p[j][j], filter.covariance().get(j, j));
    }
  }

  @Test
  void anOutlierMovesNoSlowStateAndNoConstant() {
    for (boolean volts : new boolean[] {true, false}) {
      AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
      TestFlight other = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
      fly(one, other, 4);
      other.next();
      double factor = volts ? 0.8 : 1.5;
      FedSample.predict(
          one,
          other,
          other.busVolts * (volts ? factor : 1),
          other.busAmps * (volts ? 1 : factor),
          NONE);
      double[] x = states(one.filter());
      double[][] p = covariances(one.filter());
      assertTrue(one.correct(false));
      assertTrue(one.filter().outlier());
      assertTrue(one.filter().outlierSize() > 9);
      for (int j : SLOW) {
        assertEquals(x[j], one.filter().state(j), "state " + j);
        assertEquals(p[j][j], one.filter().covariance().get(j, j), 1e-9 * p[j][j], "state " + j);
      }
      for (int j = State.ESTIMATED; j < State.UNFILTERED; j++) {
        assertEquals(x[j], one.filter().state(j), "constant " + j);
        assertEquals(p[j][j], one.filter().covariance().get(j, j), 1e-12);
      }
      double moved =
          Math.abs(one.filter().state(State.LIGHT) - x[State.LIGHT])
              + Math.abs(one.filter().state(State.EMF) - x[State.EMF]);
      assertTrue(moved > 0.05, "light and rotor follow: " + moved);
      // what is believed now lies near the reading
      double misfit =
          volts
              ? one.filter().volts() / (0.8 * other.busVolts) - 1
              : one.filter().amps() / (1.5 * other.busAmps) - 1;
      assertTrue(Math.abs(misfit) < (volts ? 0.15 : 0.25), "misfit " + misfit);
    }
  }

  /** With the current the light falls to explain a voltage 1 % low; alone, it hardly moves. */
  @Test
  void aVoltageAloneDoesNotChangeTheLightByAJump() {
    for (boolean alone : new boolean[] {false, true}) {
      AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
      TestFlight other = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
      fly(one, other, 4);
      one.filter().setAirborne(true, 4);
      other.next();
      double amps = alone ? Double.NaN : other.busAmps;
      FedSample.predict(one, other, 0.99 * other.busVolts, amps, NONE);
      double before = one.filter().state(State.LIGHT);
      assertTrue(one.correct(false));
      assertTrue(one.filter().outlier());
      double change = one.filter().state(State.LIGHT) - before;
      assertTrue(alone ? change > -0.01 : change < -0.1, alone + ": " + change);
    }
  }

  @Test
  void learningEndsWithTheSettledFlight() {
    fly(aligned, flight, 4);
    predict(aligned, flight, NONE);
    double[] x = states(filter);
    filter.setAirborne(true, 3);
    assertTrue(aligned.correct(false));
    for (int j = State.ESTIMATED; j < State.UNFILTERED; j++) {
      assertEquals(x[j], filter.state(j), "three seconds themselves");
    }
    predict(aligned, flight, NONE);
    x = states(filter);
    filter.setAirborne(true, 3.001);
    assertTrue(aligned.correct(false));
    assertTrue(x[State.VOLTAGE_GAIN] != filter.state(State.VOLTAGE_GAIN));
  }

  @Test
  void theFirstSampleAfterTimeWithoutReadingsTeachesNothing() {
    fly(aligned, flight, 4);
    filter.setAirborne(true, 4);
    filter.coast(0.02, 0.5);
    for (boolean learns : new boolean[] {false, true}) {
      predict(aligned, flight, NONE);
      double before = filter.state(State.VOLTAGE_GAIN);
      assertTrue(aligned.correct(false));
      assertEquals(learns, before != filter.state(State.VOLTAGE_GAIN));
    }
  }

  /** A Kalman update by the sum of cell temperature and offset, constants at their part. */
  @Test
  void aThermometerCorrectsByItsOwnRow() {
    AlignedFilter without = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    TestFlight same = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
    fly(aligned, flight, 4);
    fly(without, same, 4);
    predict(without, same, NONE);
    assertTrue(without.correct(false));
    double[] x = states(without.filter());
    double[][] p = covariances(without.filter());
    double celsius = x[State.CELL] + x[State.THERMOMETER_OFFSET] + 4;
    predict(aligned, flight, celsius);
    assertTrue(aligned.correct(false));
    double[] ph = new double[State.SIZE];
    for (int j = 0; j < State.UNFILTERED; j++) {
      ph[j] = p[j][State.CELL] + p[j][State.THERMOMETER_OFFSET];
    }
    // a kelvin squared that stays for 2 s: the first reading comes after 4 s
    double s = ph[State.CELL] + ph[State.THERMOMETER_OFFSET] + 1;
    for (int j = 0; j < State.UNFILTERED; j++) {
      double part = j >= State.ESTIMATED ? 0.3 : 1;
      double expected = x[j] + part * ph[j] * 4 / s;
      assertEquals(expected, filter.state(j), 1e-6 * Math.sqrt(p[j][j]), "state " + j);
      for (int k = 0; k < State.UNFILTERED; k++) {
        double share = j >= State.ESTIMATED && k >= State.ESTIMATED ? 0.51 : 1;
        assertEquals(
            p[j][k] - share * ph[j] * ph[k] / s,
            filter.covariance().get(j, k),
            1e-6 * Math.sqrt(p[j][j] * p[k][k]),
            "covariance of " + j + " and " + k);
      }
    }
    assertFalse(filter.thermometerLeftOut());
    for (int i = 0; i < 50; i++) {
      predict(aligned, flight, celsius + 60);
      aligned.correct(false);
    }
    assertTrue(filter.thermometerLeftOut());
  }

  @Test
  void takeOffAndLandingForgetTheAir() {
    fly(aligned, flight, 1);
    for (boolean flies : new boolean[] {false, true}) {
      filter.setAirborne(flies, 0);
      assertEquals(0, filter.state(State.AIR));
      for (int j = 0; j < State.UNFILTERED; j++) {
        double expected = j == State.AIR ? (flies ? 36 : 144) : 0;
        assertEquals(expected, filter.covariance().get(State.AIR, j), 1e-12);
      }
      fly(aligned, flight, flies ? 1.2 : 1.1);
      filter.setAirborne(flies, 0);
    }
  }

  /** The light may have done anything in a gap: 0.1 a second, from 0.4 s on. */
  @Test
  void gapsAddToTheLightsVariance() {
    assertEquals(0, HiddenStateFilter.gapVariance(0.4));
    assertEquals(0.0025, HiddenStateFilter.gapVariance(0.5), 1e-15);
    fly(aligned, flight, 4);
    double drift = filter.lightDrift() * filter.lightDrift();
    double before = filter.covariance().get(State.LIGHT, State.LIGHT);
    filter.predict(0.3, 0.5);
    assertEquals(before + 0.3 * drift, filter.covariance().get(State.LIGHT, State.LIGHT), 1e-12);
    filter.predict(0.3, 0.5);
    assertEquals(
        before + 0.6 * drift + 0.0036,
        filter.covariance().get(State.LIGHT, State.LIGHT),
        1e-12,
        "0.6 s since the sample");
    assertEquals(0.5, filter.throttle());
    filter.predict(9, 0.5);
    assertEquals(
        before + 0.6 * drift + 0.0036 + 0.25,
        filter.covariance().get(State.LIGHT, State.LIGHT),
        1e-9,
        "a quarter at most");
  }

  @Test
  void coastingWidensTheLight() {
    fly(aligned, flight, 4);
    double drift = filter.lightDrift() * filter.lightDrift();
    double before = filter.covariance().get(State.LIGHT, State.LIGHT);
    filter.coast(0.3, 0.5);
    assertEquals(
        before + 0.3 * (drift + 0.01), filter.covariance().get(State.LIGHT, State.LIGHT), 1e-12);
    filter.coast(40, 0.5);
    assertEquals(
        before + 0.3 * (drift + 0.01) + 0.25 + 0.25,
        filter.covariance().get(State.LIGHT, State.LIGHT),
        1e-9);
  }

  /** A command that moved within a long step: the rotor's speed is uncertain by what it makes. */
  @Test
  void aMoveBetweenSparseCommandsIsDoubted() {
    for (double seconds : new double[] {0.06, 0.1}) {
      double[] variance = new double[2];
      double volts = 0;
      for (int i = 0; i < 2; i++) {
        AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
        fly(one, new TestFlight(t -> 0.9, t -> 0.5, 50, 4), 1);
        volts = one.filter().volts();
        one.filter().hold(0.5);
        one.filter().predict(seconds, 0.5 + 0.1 * i);
        variance[i] = one.filter().covariance().get(State.EMF, State.EMF);
      }
      double sd = (1 - Math.exp(-seconds / 0.12)) * 0.1 * volts;
      assertEquals(seconds > 0.06 ? sd * sd : 0, variance[1] - variance[0], 1e-9);
    }
  }

  /** Over a gap the mean of both throttles has acted. */
  @Test
  void overAGapTheMeanThrottleActs() {
    double[] emf = new double[3];
    double[][] throttles = {{0.5, 0.6}, {0.55, 0.55}, {0.5, 0.5}};
    for (int i = 0; i < 3; i++) {
      AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
      fly(one, new TestFlight(t -> 0.9, t -> 0.5, 50, 4), 1);
      one.filter().hold(throttles[i][0]);
      one.filter().predict(0.41, throttles[i][1]);
      emf[i] = one.filter().state(State.EMF);
    }
    assertEquals(emf[1], emf[0], 1e-12);
    assertTrue(emf[2] < emf[0] - 0.1);
  }

  private static final int ROOM = 2048;

  @Test
  void aWrittenStateIsTheStateInSinglePrecision() {
    fly(aligned, flight, 4);
    AlignedFilter other = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    other.filter().read(WrittenState.reread(ROOM, filter::write));
    double[][] p = covariances(filter);
    for (int i = 0; i < State.UNFILTERED; i++) {
      assertEquals(filter.state(i), other.filter().state(i), "state " + i);
      for (int j = 0; j < State.UNFILTERED; j++) {
        double expected = (float) p[i][j] * (i == j ? 1 + 1e-5 : 1);
        assertEquals(expected, other.filter().covariance().get(i, j), 1e-12 * Math.abs(expected));
      }
    }
    assertEquals(filter.lightDrift(), other.filter().lightDrift());
    assertEquals(filter.throttle(), other.filter().throttle());
    assertEquals(filter.suns(), other.filter().suns(), 1e-9);
    assertEquals(filter.volts(), other.filter().volts(), 1e-3, "the operating point is solved");
    assertEquals(filter.amps(), other.filter().amps(), 1e-2);
    assertEquals(filter.ohms(), other.filter().ohms(), 1e-6);
    assertTrue(other.filter().healthy());
    other.resume(Math.round(flight.seconds * 1e9));
    TestFlight next = flight;
    next.next();
    for (AlignedFilter one : new AlignedFilter[] {aligned, other}) {
      FedSample.predict(one, next, next.busVolts, next.busAmps, NONE);
      if (!one.correct(false)) {
        throw new AssertionError("deferred");
      }
    }
    for (int i = 0; i < State.UNFILTERED; i++) {
      assertEquals(
          filter.state(i), other.filter().state(i), 1e-3 * Math.sqrt(p[i][i]), "state " + i);
    }
  }

  @Test
  void aStateOutOfBoundsIsBroughtBackAndOneThatIsNoneIsNotHealthy() {
    filter.read(
        WrittenState.reread(
            ROOM,
            out -> {
              for (int i = 0; i < State.SIZE; i++) {
                out.put(50);
              }
            }));
    assertEquals(Math.log(2.2), filter.state(State.LIGHT));
    assertEquals(5 * 0.005, filter.state(State.VOLTAGE_GAIN), 1e-12);
    assertTrue(filter.healthy());
    filter.read(
        WrittenState.reread(
            ROOM,
            out -> {
              for (int i = 0; i < State.SIZE; i++) {
                out.put(Double.NaN);
              }
            }));
    assertFalse(filter.healthy());
  }

  @Test
  void resetEqualsNew() {
    while (flight.seconds < 3) {
      predict(aligned, flight, flight.cellCelsius + 30);
      aligned.correct(false);
    }
    aligned.reset();
    assertEquals(2, filter.innovations().normalised());
    assertEquals(0, filter.innovations().logLikelihood());
    assertEquals(0.02, filter.lightDrift());
    assertFalse(filter.thermometerLeftOut());
    AlignedFilter fresh = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    assertEquals(fresh.filter().suns(), filter.suns());
    TestFlight a = new TestFlight(t -> 0.8, t -> 0.5, 50, 9);
    TestFlight b = new TestFlight(t -> 0.8, t -> 0.5, 50, 9);
    for (int i = 0; i < 30; i++) {
      predict(aligned, a, a.cellCelsius);
      predict(fresh, b, b.cellCelsius);
      aligned.correct(false);
      fresh.correct(false);
      for (int j = 0; j < State.UNFILTERED; j++) {
        assertEquals(fresh.filter().state(j), filter.state(j), "sample " + i + ", state " + j);
      }
    }
  }
}
