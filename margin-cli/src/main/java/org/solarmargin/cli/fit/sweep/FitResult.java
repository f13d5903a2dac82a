package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.linear.SingularValueDecomposition;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/**
 * A fitted sweep: parameters at 1000 W/m2 and the sweep's own temperature, their covariance {@code
 * s^2 (J' W J)^-1} with s^2 the residual variance over the degrees of freedom, and how well the
 * points determine each. Only {@link #cell()} is translated to 25 degrees Celsius, using the
 * coefficient of the open-circuit voltage.
 */
public final class FitResult {

  /** Symbols of the five parameters, in the order of {@link #values()}. */
  public static final List<String> NAMES = List.of("IL", "I0", "n", "Rs", "Rsh");

  private static final double REFERENCE_CELSIUS = 25;
  private static final double SINGULAR = 1e-13;
  private static final double IDEALITY_LOG_SD = 0.25;
  private static final double TRUSTED_FREEDOM = 5;

  /**
   * A series resistance counts as determined if its error changes the MPP voltage by less than this
   * share. This and the other limits here are engineering judgement.
   */
  private static final double VOLTAGE_SHARE = 0.02;

  private final Sweep sweep;
  private final FitOptions options;
  private final CurrentModel model;
  private final double[] theta;
  private final int[] free;
  private final RealMatrix covariance;
  private final double rms;
  private final double variance;
  private final double[] residuals;
  private int evaluations;
  private double approximateRms = Double.NaN;

  FitResult(
      Sweep sweep,
      FitOptions options,
      CurrentModel model,
      double[] theta,
      int[] free,
      double[] weights) {
    this.sweep = sweep;
    this.options = options;
    this.model = model;
    this.theta = theta.clone();
    this.free = free.clone();
    residuals = new double[sweep.size()];
    double sum = 0;
    double weighted = 0;
    for (int i = 0; i < residuals.length; i++) {
      residuals[i] = model.amps(theta, i) - sweep.amps(i);
      sum += residuals[i] * residuals[i];
      weighted += weights[i] * residuals[i] * residuals[i];
    }
    rms = Math.sqrt(sum / residuals.length);
    variance = variance(weighted);
    covariance = covariance(weights, variance);
  }

  /** Residual variance; with few degrees of freedom at least that of the stated noise. */
  private double variance(double weightedSum) {
    double freedom = sweep.size() - free.length;
    double stated = options.currentNoise(sweep.mostAmps());
    double seen = freedom > 0 ? weightedSum / freedom : 0;
    return freedom >= TRUSTED_FREEDOM ? seen : Math.max(seen, stated * stated);
  }

  private RealMatrix covariance(double[] weights, double variance) {
    RealVector point = MatrixUtils.createRealVector(model.freeOf(theta));
    RealMatrix j = model.value(point).getSecond();
    int n = free.length;
    RealMatrix normal = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < weights.length; i++) {
      for (int r = 0; r < n; r++) {
        for (int c = 0; c < n; c++) {
          normal.addToEntry(r, c, weights[i] * j.getEntry(i, r) * j.getEntry(i, c));
        }
      }
    }
    // scaled before inversion, so that the cut-off has the same meaning for all parameters
    double[] scale = new double[n];
    Arrays.setAll(scale, r -> Math.max(Math.sqrt(normal.getEntry(r, r)), Double.MIN_NORMAL));
    RealMatrix scaled = MatrixUtils.createRealMatrix(n, n);
    for (int r = 0; r < n; r++) {
      for (int c = 0; c < n; c++) {
        scaled.setEntry(r, c, normal.getEntry(r, c) / (scale[r] * scale[c]));
      }
    }
    SingularValueDecomposition parts = new SingularValueDecomposition(scaled);
    double[] s = parts.getSingularValues();
    RealMatrix inverse = MatrixUtils.createRealMatrix(n, n);
    for (int k = 0; k < n; k++) {
      double value = Math.max(s[k], SINGULAR);
      RealVector v = parts.getV().getColumnVector(k);
      inverse = inverse.add(v.outerProduct(v).scalarMultiply(1 / value));
    }
    RealMatrix whole = MatrixUtils.createRealMatrix(DiodeParameters.SIZE, DiodeParameters.SIZE);
    for (int r = 0; r < n; r++) {
      for (int c = 0; c < n; c++) {
        double entry = variance * inverse.getEntry(r, c) / (scale[r] * scale[c]);
        whole.setEntry(free[r], free[c], entry);
      }
    }
    return whole;
  }

  FitResult with(int spent, double approximate) {
    evaluations = spent;
    approximateRms = approximate;
    return this;
  }

  public Sweep sweep() {
    return sweep;
  }

  public FitOptions options() {
    return options;
  }

  public double[] theta() {
    return theta.clone();
  }

  int[] free() {
    return free.clone();
  }

  public boolean isFree(int place) {
    return Arrays.stream(free).anyMatch(j -> j == place);
  }

  /** Root mean square of the exact residual over all points, A of the array. */
  public double rms() {
    return rms;
  }

  /** Modelled minus measured current at a point, A of the array. */
  public double residual(int i) {
    return residuals[i];
  }

  /** Evaluations of the whole model over all starts. */
  public int evaluations() {
    return evaluations;
  }

  /** Root mean square of the approximate residual at its own optimum, A of the array. */
  public double approximateRms() {
    return approximateRms;
  }

  /** One cell at 1000 W/m2 and 25 degrees Celsius. */
  public CellParameters cell() {
    return DiodeParameters.cell(theta, benchCelsius(), options.iscCoeffPerKelvin(), vocCoeff());
  }

  /** Cell temperature of the parameters. */
  public double benchCelsius() {
    return sweep.meanCelsius();
  }

  /**
   * Relative coefficient of the open-circuit voltage, 1/K: fitted to the points, else as stated.
   */
  public double vocCoeff() {
    return isFree(DiodeParameters.COEFF)
        ? DiodeParameters.vocCoeff(theta, benchCelsius(), options.iscCoeffPerKelvin())
        : options.vocCoeffPerKelvin();
  }

  /** Its sigma, 1/K. */
  public double vocCoeffSd() {
    return isFree(DiodeParameters.COEFF) ? sd(DiodeParameters.COEFF) : options.vocCoeffSd();
  }

  /** The swept array at a light and temperature. */
  public SolarArray array(double suns, double celsius) {
    SolarArray array = new SolarArray(cell(), sweep.series(), sweep.parallel());
    array.set(suns, celsius);
    array.solvePeak();
    return array;
  }

  /** IL, I0, n, Rs, Rsh of one cell at 1000 W/m2 and the sweep's temperature. */
  public double[] values() {
    double ideality = Math.exp(theta[DiodeParameters.LOG_N]);
    double reduced =
        theta[DiodeParameters.W] / (ideality * DiodeParameters.thermalVolts(benchCelsius()));
    return new double[] {
      theta[DiodeParameters.IL],
      theta[DiodeParameters.IL] * Math.exp(-reduced),
      ideality,
      theta[DiodeParameters.RS],
      cell().shuntOhms()
    };
  }

  /** IL, I0, n, Rs, Rsh of one cell at 1000 W/m2 and 25 degrees Celsius. */
  public double[] referenceValues() {
    CellParameters cell = cell();
    return new double[] {
      cell.photocurrentAmps(),
      cell.saturationAmps(),
      cell.ideality(),
      cell.seriesOhms(),
      cell.shuntOhms()
    };
  }

  /** Covariance of {@link #values()}, by the derivatives of the change of coordinates. */
  RealMatrix valueCovariance() {
    double[] v = values();
    double thermal = v[2] * DiodeParameters.thermalVolts(benchCelsius());
    RealMatrix d = MatrixUtils.createRealMatrix(NAMES.size(), DiodeParameters.SIZE);
    d.setEntry(0, DiodeParameters.IL, 1);
    d.setEntry(1, DiodeParameters.IL, v[1] / v[0]);
    d.setEntry(1, DiodeParameters.W, -v[1] / thermal);
    d.setEntry(1, DiodeParameters.LOG_N, v[1] * theta[DiodeParameters.W] / thermal);
    d.setEntry(2, DiodeParameters.LOG_N, v[2]);
    d.setEntry(3, DiodeParameters.RS, 1);
    d.setEntry(4, DiodeParameters.G, -v[4] * v[4]);
    return d.multiply(covariance).multiplyTransposed(d);
  }

  /** Standard error of each of {@link #values()}. */
  public double[] standardErrors() {
    RealMatrix all = valueCovariance();
    double[] errors = new double[NAMES.size()];
    Arrays.setAll(errors, r -> Math.sqrt(Math.max(all.getEntry(r, r), 0)));
    return errors;
  }

  /** Correlations of {@link #values()}; NaN where one was held. */
  public double[][] correlations() {
    RealMatrix all = valueCovariance();
    double[][] correlations = new double[NAMES.size()][NAMES.size()];
    for (int r = 0; r < NAMES.size(); r++) {
      for (int c = 0; c < NAMES.size(); c++) {
        double product = all.getEntry(r, r) * all.getEntry(c, c);
        correlations[r][c] = product > 0 ? all.getEntry(r, c) / Math.sqrt(product) : Double.NaN;
      }
    }
    return correlations;
  }

  /** Sigma of one of the fit's own coordinates, see {@link DiodeParameters}; 0 if it was held. */
  public double sd(int place) {
    return Math.sqrt(Math.max(covariance.getEntry(place, place), 0));
  }

  /** The same sigma with the stated noise, so that it depends only on where the points lie. */
  double statedSd(int place) {
    return sd(place) * options.currentNoise(sweep.mostAmps()) / Math.sqrt(variance);
  }

  /** Which of IL, I0, n, Rs, Rsh these points do not determine, by name; usually none. */
  public List<String> undetermined() {
    List<String> names = new ArrayList<>();
    if (!idealityKnown()) {
      names.add("I0");
      names.add("n");
    }
    if (!seriesKnown()) {
      names.add("Rs");
    }
    if (!shuntKnown()) {
      names.add("Rsh");
    }
    return names;
  }

  public boolean idealityKnown() {
    return isFree(DiodeParameters.LOG_N) && sd(DiodeParameters.LOG_N) < IDEALITY_LOG_SD;
  }

  public boolean seriesKnown() {
    SolarArray array = array(1, REFERENCE_CELSIUS);
    double cellAmps = array.peakAmps() / sweep.parallel();
    double cellVolts = array.peakVolts() / sweep.series();
    double sd = sd(DiodeParameters.RS);
    return isFree(DiodeParameters.RS)
        && (sd < 0.5 * theta[DiodeParameters.RS] || sd * cellAmps < VOLTAGE_SHARE * cellVolts);
  }

  public boolean shuntKnown() {
    return isFree(DiodeParameters.G) && 2 * sd(DiodeParameters.G) < theta[DiodeParameters.G];
  }
}
