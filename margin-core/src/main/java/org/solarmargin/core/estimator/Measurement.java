package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;

import org.solarmargin.core.array.SolarArray;

/**
 * The measurement model linearised at the present state: innovations of voltage and current, their
 * covariance, and the cross-covariance of the state with them.
 */
final class Measurement {

  /** What the array model leaves in the voltage from sample to sample, V. */
  static final double MODEL_VOLTS = 1e-3;

  private final SolarArray array;
  private final OperatingPoint point;
  private final Instruments instruments;
  private final Exponential suns = new Exponential();
  private final Exponential seriesFactor = new Exponential();
  private final Exponential idealityFactor = new Exponential();

  /** P h' of each reading, h its row of the measurement Jacobian. */
  final double[] phVolts = new double[SIZE];

  final double[] phAmps = new double[SIZE];

  double yVolts;
  double yAmps;
  double varianceVolts;
  double varianceAmps;
  double covariance;

  private double noiseVolts;
  private double noiseAmps;

  Measurement(SolarArray array, OperatingPoint point, Instruments instruments) {
    this.array = array;
    this.point = point;
    this.instruments = instruments;
  }

  void reset() {
    suns.forget();
    seriesFactor.forget();
    idealityFactor.forget();
  }

  /** Moves the array's curve to a state. */
  void moveCurve(double[] x) {
    array
        .curve()
        .setAltered(
            suns.of(x[LIGHT]),
            x[State.CELL],
            seriesFactor.of(x[SERIES]),
            idealityFactor.of(x[IDEALITY]));
  }

  /** Light at the state of the last {@link #moveCurve}, suns. */
  double suns() {
    return suns.value();
  }

  /** Variances of the readings to come, V squared and A squared. */
  void setNoise(double volts, double amps) {
    noiseVolts = volts + MODEL_VOLTS * MODEL_VOLTS;
    noiseAmps = amps;
  }

  /**
   * Solves the operating point at {@code x}, takes the Jacobian there and the innovations against
   * the prediction.
   */
  void linearise(double[] x, double[] predicted, Covariance p, Sample sample) {
    moveCurve(x);
    point.solve(x, sample.throttle);
    point.differentiate(x, sample.throttle, instruments.lightShift(x), instruments.emfShift(x));
    weigh(p);
    yVolts =
        sample.volts
            - (1 + x[VOLTAGE_GAIN]) * point.volts()
            - moved(point.voltageRow(), predicted, x);
    yAmps =
        sample.amps
            - (1 + x[CURRENT_GAIN]) * point.amps()
            - x[CURRENT_OFFSET]
            - moved(point.currentRow(), predicted, x);
  }

  /** Innovation covariance at the present Jacobian. */
  void weigh(Covariance p) {
    p.times(point.voltageRow(), phVolts, point.currentRow(), phAmps);
    varianceVolts = dot(point.voltageRow(), phVolts) + noiseVolts;
    covariance = dot(point.voltageRow(), phAmps);
    varianceAmps = dot(point.currentRow(), phAmps) + noiseAmps;
  }

  /** Squared innovation of the voltage over its variance. */
  double normVolts() {
    return yVolts * yVolts / varianceVolts;
  }

  /** Squared innovation of the current over its variance. */
  double normAmps() {
    return yAmps * yAmps / varianceAmps;
  }

  /** Squared correlation of the two innovations. */
  double rho() {
    return covariance * covariance / (varianceVolts * varianceAmps);
  }

  /** Normalised innovation squared of both readings together; 2 on average. */
  double normalised() {
    double cross = 2 * covariance * yVolts * yAmps / (varianceVolts * varianceAmps);
    return (normVolts() + normAmps() - cross) / (1 - rho());
  }

  private static double moved(double[] row, double[] from, double[] to) {
    double sum = 0;
    for (int j = 0; j < SIZE; j++) {
      sum += row[j] * (from[j] - to[j]);
    }
    return sum;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int j = 0; j < SIZE; j++) {
      sum += a[j] * b[j];
    }
    return sum;
  }
}
