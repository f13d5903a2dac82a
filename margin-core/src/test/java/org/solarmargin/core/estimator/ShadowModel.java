package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.LIGHT;

import java.util.Arrays;
import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.differentiation.DSFactory;
import org.hipparchus.analysis.differentiation.FiniteDifferencesDifferentiator;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * What {@link UnevenLight} assumes of the bus voltage, in plain form. Each hypothesis is a string
 * of single diodes without shunt, {@code V = a ln((Iph - I) / I0) - I Rs} for each cell, with the
 * parameters of {@link CellCurve}; slopes are finite differences of the string's voltage; and the
 * slow error of the voltage, offset and slope, is a Kalman filter in matrices. Probabilities, the
 * uniform change and a reading's residuals are those of {@link ShadowMixture}, {@link UniformLight}
 * and {@link VoltageResidual}, which have tests of their own.
 */
final class ShadowModel {

  static final double PREDICTED_FROM_SECONDS = 0.15;

  final ShadowMixture mixture;
  final UniformLight uniform;
  private final VoltageResidual reading = new VoltageResidual();
  final SolarArray array;
  private final double levelVariance;
  private final double voltsPerKelvin;
  RealMatrix covariance;
  double statedSlope;
  double middleAmps;
  double since;
  double sincePrediction;
  boolean started;
  double referenceLight;
  double referenceCelsius;
  boolean predicted;

  ShadowModel(EstimatorSettings settings) {
    array = settings.newArray();
    mixture = new ShadowMixture(settings.shadowShare());
    double level = 0.0033 * array.seriesCells();
    levelVariance = level * level;
    uniform = new UniformLight(levelVariance);
    covariance = MatrixUtils.createRealDiagonalMatrix(new double[] {levelVariance, 0});
    CellCurve open = settings.newArray().curve();
    voltsPerKelvin =
        array.seriesCells()
            * slope(
                celsius -> {
                  open.set(1, celsius);
                  return open.openCircuitVolts();
                },
                45,
                1);
  }

  CellCurve curve() {
    return array.curve();
  }

  /** Voltage of a string of which some cells have another light, at a cell current. */
  double volts(double cellAmps, int dimCells, double light) {
    return (array.seriesCells() - dimCells) * cellVolts(cellAmps, 1)
        + dimCells * cellVolts(cellAmps, light);
  }

  /** A cell's voltage; below a thousandth of the photocurrent the logarithm's tangent goes on. */
  private double cellVolts(double amps, double light) {
    CellCurve curve = array.curve();
    double photo = curve.photocurrentAmps();
    double diode = light * photo - amps;
    double least = 0.001 * photo;
    double beyond = Math.min(diode - least, 0) / least;
    double log = Math.log(Math.max(diode, least) / curve.saturationAmps()) + beyond;
    return curve.thermalVolts() * log - amps * curve.seriesOhms();
  }

  private static double slope(UnivariateFunction function, double at, double width) {
    return new FiniteDifferencesDifferentiator(5, width)
        .differentiate(function)
        .value(new DSFactory(1, 1).variable(0, at))
        .getPartialDerivative(1);
  }

  /** One sample, as {@link UnevenLight#follow}. */
  void follow(double step, Sample sample, double lagSeconds, HiddenStateFilter filter) {
    since += step;
    predicted = false;
    if (started && since < 0.1) {
      return;
    }
    double seconds = Math.min(since, 1);
    since = 0;
    moveReference(seconds, filter);
    TestCraft.move(array, referenceState(filter));
    sincePrediction += seconds;
    if (sincePrediction > PREDICTED_FROM_SECONDS) {
      predict(sincePrediction, step > 0.4 ? Math.pow(0.1 * step, 2) : 0);
      sincePrediction = 0;
      predicted = true;
    }
    double late = (lagSeconds + Math.max(step - 0.1, 0)) / 0.05;
    correct(sample, 4 * (1 + late * late), filter);
  }

  /**
   * Light and temperature before a fall follow a rise within 3 s and a fall within 120 s, the light
   * within 10 s if it has certainly changed on all cells.
   */
  private void moveReference(double seconds, HiddenStateFilter filter) {
    if (!started) {
      referenceLight = filter.state(LIGHT);
      referenceCelsius = filter.state(CELL);
      started = true;
    }
    double clear = 1 - mixture.shadowWeight();
    double falling = 1.0 / 120 + Math.pow(mixture.uniformWeight(), 3) / 10;
    double lighter = filter.state(LIGHT) - referenceLight;
    double warmer = filter.state(CELL) - referenceCelsius;
    referenceLight += clear * lighter * Math.min(lighter > 0 ? seconds / 3 : falling * seconds, 1);
    referenceCelsius += clear * warmer * seconds / (warmer > 0 ? 3 : 120);
  }

  private double[] referenceState(HiddenStateFilter filter) {
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, filter::state);
    x[LIGHT] = referenceLight;
    x[CELL] = referenceCelsius;
    return x;
  }

  private void predict(double seconds, double jump) {
    double keep = Math.exp(-seconds / 60);
    double keepSlope = Math.exp(-seconds / 600);
    RealMatrix f = MatrixUtils.createRealDiagonalMatrix(new double[] {keep, keepSlope});
    RealMatrix stationary =
        MatrixUtils.createRealDiagonalMatrix(new double[] {levelVariance, statedSlope});
    RealMatrix decayed = f.multiply(stationary).multiply(f);
    covariance = f.multiply(covariance).multiply(f).add(stationary.subtract(decayed));
    uniform.predict(keep, keepSlope, statedSlope, 0.02 * 0.02 * seconds + jump);
    mixture.predict(seconds, keep, keepSlope, uniform);
  }

  private void correct(Sample sample, double factor, HiddenStateFilter filter) {
    double volts = sample.volts / (1 + filter.state(State.VOLTAGE_GAIN));
    double busAmps =
        (sample.amps - filter.state(State.CURRENT_OFFSET)) / (1 + filter.state(State.CURRENT_GAIN));
    double amps = busAmps / array.parallelStrings();
    double perAmp = slope(i -> volts(i, 0, 1), amps, 1e-5);
    double perBusAmp = perAmp / array.parallelStrings();
    double noise =
        factor
            * (sample.voltsVariance
                + sample.voltsReadout
                + 1e-6
                + perBusAmp * perBusAmp * (sample.ampsVariance + sample.ampsReadout));
    if (covariance.getEntry(1, 1) == 0) {
      middleAmps = amps;
      statedSlope = Math.pow(0.06 * perAmp, 2);
      covariance.setEntry(1, 1, statedSlope);
      uniform.stateSlope(statedSlope);
    }
    double beside = amps - middleAmps;
    RealVector row = new ArrayRealVector(new double[] {1, beside});
    RealVector toStates = covariance.operate(row);
    double variance = toStates.dotProduct(row) + noise;
    RealVector gain = toStates.mapDivide(variance);
    double warmer = filter.state(CELL) - referenceCelsius;
    double log = correctUniform(volts, amps, beside, noise, 1 / factor, warmer);
    reading.take(
        array,
        volts,
        amps,
        sample.voltsVariance + sample.voltsReadout + 1e-6,
        (sample.ampsVariance + sample.ampsReadout) / Math.pow(array.parallelStrings(), 2),
        factor);
    reading.setSlowError(beside, toStates.dotProduct(row));
    float[] logs = new float[ShadowMixture.CLEAR + 1];
    mixture.update(reading, toStates.getEntry(0), toStates.getEntry(1), log, logs);
    covariance = covariance.subtract(gain.outerProduct(toStates));
  }

  /** All cells lose or gain light; warmer ones have less voltage. */
  private double correctUniform(
      double volts, double amps, double beside, double noise, double information, double warmer) {
    int all = array.seriesCells();
    double depth = uniform.depth();
    double expected = volts(amps, all, Math.exp(depth)) + warmer * voltsPerKelvin;
    double photo = array.curve().photocurrentAmps();
    double lit = Math.exp(depth) * photo;
    // the derivative stays that of a diode with a fiftieth of the photocurrent
    boolean steep = lit - amps < 0.02 * photo;
    double perDepth =
        steep
            ? all * array.curve().thermalVolts() * lit / (0.02 * photo)
            : slope(d -> volts(amps, all, Math.exp(d)), depth, 1e-5);
    return uniform.follow(volts - expected, beside, perDepth, noise, information);
  }
}
