package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;

/**
 * Readings behind filters, against the conditional mean and covariance of a joint normal
 * distribution, written out with matrices of Hipparchus: {@code f = (1 - c) held + c (h x + v)},
 * reading {@code y = f + r}.
 */
class FilteredReadingsTest {

  private static final double THROTTLE = 0.52;
  private static final double SENSOR_VOLTS = 0.02 * 0.02;
  private static final double SENSOR_AMPS = 0.05 * 0.05;
  private static final int VOLTS = State.FILTERED_VOLTS;
  private static final int AMPS = State.FILTERED_AMPS;

  private final SolarArray array = TestCraft.SETTINGS.newArray();
  private final OperatingPoint point = new OperatingPoint(array, 3.5);
  private final Instruments instruments = new Instruments();
  private final Measurement measurement = new Measurement(array, point, instruments);
  private final double[] x = new double[State.SIZE];
  private final Covariance p = new Covariance(true);
  private RealMatrix plain;

  FilteredReadingsTest() {
    x[State.LIGHT] = Math.log(0.8);
    x[State.CELL] = 42;
    x[State.EMF] = 13.8;
    x[State.PROPULSION] = Math.log(0.0275);
    x[State.WINDING] = Math.log(0.17);
    x[State.VOLTAGE_GAIN] = 0.01;
    x[State.CURRENT_GAIN] = -0.02;
    x[State.CURRENT_OFFSET] = 0.03;
    x[VOLTS] = 28.5;
    x[AMPS] = 3.1;
    instruments.restart(x);
    Random random = new Random(8);
    RealMatrix root = new Array2DRowRealMatrix(State.SIZE, State.SIZE);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = 0; j < State.SIZE; j++) {
        root.setEntry(i, j, 0.05 * random.nextGaussian());
      }
    }
    plain = root.multiplyTransposed(root);
    p.setFiltered(true);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = i; j < State.SIZE; j++) {
        p.set(i, j, plain.getEntry(i, j));
      }
    }
  }

  private static Sample sample(double voltsNew, double ampsNew) {
    Sample sample = new Sample();
    sample.throttle = THROTTLE;
    sample.volts = 28.9;
    sample.amps = 3.3;
    sample.voltsVariance = SENSOR_VOLTS;
    sample.ampsVariance = SENSOR_AMPS;
    sample.voltsReadout = 1e-4;
    sample.ampsReadout = 3e-4;
    sample.voltsNew = voltsNew;
    sample.ampsNew = ampsNew;
    return sample;
  }

  /**
   * Row of what a filter holds next: its share of the operating point's row, the rest of itself.
   */
  private static RealVector row(double[] jacobian, double fresh, int held) {
    RealVector row = MatrixUtils.createRealVector(jacobian).mapMultiply(fresh);
    row.setEntry(VOLTS, 0);
    row.setEntry(AMPS, 0);
    row.setEntry(held, 1 - fresh);
    return row;
  }

  @ParameterizedTest
  @CsvSource({"0.25, 0.4", "0.25, 1", "1, 0.4"})
  void whatTheFiltersHoldIsTheConditionalOfTheReadings(double voltsNew, double ampsNew) {
    Sample sample = sample(voltsNew, ampsNew);
    measurement.prepare(sample);
    measurement.linearise(x, x.clone(), p, sample);
    RealVector hv = row(point.voltageJacobian(), voltsNew, VOLTS);
    RealVector ha = row(point.currentJacobian(), ampsNew, AMPS);
    RealMatrix h = MatrixUtils.createRealMatrix(new double[][] {hv.toArray(), ha.toArray()});
    double model = Measurement.MODEL_VOLTS * Measurement.MODEL_VOLTS;
    RealMatrix noise =
        MatrixUtils.createRealDiagonalMatrix(
            new double[] {
              voltsNew * voltsNew * (SENSOR_VOLTS + model), ampsNew * ampsNew * SENSOR_AMPS
            });
    RealMatrix readout = MatrixUtils.createRealDiagonalMatrix(new double[] {1e-4, 3e-4});
    RealMatrix ofHeld = h.multiply(plain).multiplyTransposed(h).add(noise);
    RealMatrix s = ofHeld.add(readout);
    double volts = (1 + x[State.VOLTAGE_GAIN]) * point.volts();
    double amps = (1 + x[State.CURRENT_GAIN]) * point.amps() + x[State.CURRENT_OFFSET];
    RealVector expected =
        new ArrayRealVector(
            new double[] {
              x[VOLTS] + voltsNew * (volts - x[VOLTS]), x[AMPS] + ampsNew * (amps - x[AMPS])
            });
    RealVector y = new ArrayRealVector(new double[] {28.9, 3.3}).subtract(expected);
    assertEquals(y.getEntry(0), measurement.yVolts, 1e-12);
    assertEquals(y.getEntry(1), measurement.yAmps, 1e-12);
    assertEquals(s.getEntry(0, 0), measurement.varianceVolts, 1e-12);
    assertEquals(s.getEntry(1, 1), measurement.varianceAmps, 1e-12);
    assertEquals(s.getEntry(0, 1), measurement.covariance, 1e-12);
    assertEquals(y.getEntry(0) * y.getEntry(0) / s.getEntry(0, 0), measurement.normVolts(), 1e-9);
    assertEquals(y.getEntry(1) * y.getEntry(1) / s.getEntry(1, 1), measurement.normAmps(), 1e-9);
    RealMatrix inverse = MatrixUtils.inverse(s);
    RealVector held = expected.add(ofHeld.multiply(inverse).operate(y));
    RealMatrix heldCovariance = ofHeld.subtract(ofHeld.multiply(inverse).multiply(ofHeld));
    RealMatrix ph = plain.multiplyTransposed(h);
    RealMatrix cross = ph.subtract(ph.multiply(inverse).multiply(ofHeld));
    measurement.holdFiltered(x, p);
    assertEquals(held.getEntry(0), x[VOLTS], 1e-9);
    assertEquals(held.getEntry(1), x[AMPS], 1e-9);
    for (int a = 0; a < 2; a++) {
      for (int b = 0; b < 2; b++) {
        assertEquals(heldCovariance.getEntry(a, b), p.get(VOLTS + a, VOLTS + b), 1e-9);
      }
      for (int j = 0; j < State.UNFILTERED; j++) {
        assertEquals(cross.getEntry(j, a), p.get(j, VOLTS + a), 1e-9, "state " + j);
      }
    }
  }

  /** The same without a filter: nothing is held. */
  @Test
  void withoutFiltersNothingIsHeld() {
    Sample sample = sample(1, 1);
    measurement.prepare(sample);
    assertEquals(1, measurement.voltsNew());
    assertEquals(1, measurement.ampsNew());
    measurement.linearise(x, x.clone(), p, sample);
    measurement.holdFiltered(x, p);
    assertEquals(28.5, x[VOLTS]);
    assertEquals(plain.getEntry(VOLTS, VOLTS), p.get(VOLTS, VOLTS));
  }

  @ParameterizedTest
  @CsvSource({"true, false", "false, true"})
  void anAbsentReadingIsItsPredictionAndTellsNothing(boolean hasVolts, boolean hasAmps) {
    Sample sample = sample(0.25, 0.4);
    sample.hasVolts = hasVolts;
    sample.hasAmps = hasAmps;
    measurement.prepare(sample);
    measurement.linearise(x, x.clone(), p, sample);
    assertEquals(!hasVolts, measurement.yVolts == 0);
    assertEquals(!hasAmps, measurement.yAmps == 0);
    assertEquals(!hasVolts, measurement.varianceVolts >= 1e6);
    assertEquals(!hasAmps, measurement.varianceAmps >= 1e6);
  }

  /** Predicted elsewhere, the innovation is that of the tangent there. */
  @Test
  void theInnovationIsThatOfThePredictionAlongTheTangent() {
    double[] predicted = x.clone();
    predicted[State.LIGHT] += 0.01;
    predicted[State.CURRENT_OFFSET] += 0.2;
    Sample sample = sample(1, 1);
    measurement.prepare(sample);
    measurement.linearise(x, predicted, p, sample);
    double volts =
        (1 + x[State.VOLTAGE_GAIN]) * point.volts() + 0.01 * point.voltageJacobian()[State.LIGHT];
    double amps =
        (1 + x[State.CURRENT_GAIN]) * point.amps()
            + x[State.CURRENT_OFFSET]
            + 0.01 * point.currentJacobian()[State.LIGHT]
            + 0.2;
    assertEquals(28.9 - volts, measurement.yVolts, 1e-12);
    assertEquals(3.3 - amps, measurement.yAmps, 1e-12);
  }

  @ParameterizedTest
  @CsvSource({"0.25, 0.4", "0.25, 1", "1, 0.4"})
  void betweenReadingsTheFiltersTakeInTheOperatingPoint(double voltsNew, double ampsNew) {
    measurement.prepare(sample(1, 1));
    measurement.moveCurve(x);
    measurement.solve(x, THROTTLE);
    RealMatrix f = MatrixUtils.createRealIdentityMatrix(State.SIZE);
    RealMatrix q = new Array2DRowRealMatrix(State.SIZE, State.SIZE);
    double volts = x[VOLTS];
    double amps = x[AMPS];
    if (voltsNew < 1) {
      f.setRowVector(VOLTS, row(point.voltageJacobian(), voltsNew, VOLTS));
      q.setEntry(VOLTS, VOLTS, voltsNew * voltsNew * SENSOR_VOLTS);
      volts += voltsNew * ((1 + x[State.VOLTAGE_GAIN]) * point.volts() - volts);
    }
    if (ampsNew < 1) {
      f.setRowVector(AMPS, row(point.currentJacobian(), ampsNew, AMPS));
      q.setEntry(AMPS, AMPS, ampsNew * ampsNew * SENSOR_AMPS);
      double now = (1 + x[State.CURRENT_GAIN]) * point.amps() + x[State.CURRENT_OFFSET];
      amps += ampsNew * (now - amps);
    }
    plain = f.multiply(plain).multiplyTransposed(f).add(q);
    measurement.setStep(voltsNew, ampsNew);
    measurement.passFilters(x, p);
    assertEquals(volts, x[VOLTS], 1e-12);
    assertEquals(amps, x[AMPS], 1e-12);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = 0; j < State.SIZE; j++) {
        assertEquals(plain.getEntry(i, j), p.get(i, j), 1e-12, i + " and " + j);
      }
    }
  }
}
