package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import java.util.function.ToDoubleFunction;
import org.solarmargin.cli.fit.numeric.StraightLine;

/**
 * Several fitted sweeps of one array, fitted together as one cell.
 *
 * <p>Light sensors are less consistent than the array's own curve, so each sweep's light is derived
 * from its own photocurrent, with one sun defined by all ({@link StatedLight}). Sweeps whose stated
 * light contradicts the others are left out, because their temperature may be of another time as
 * well. A straight line through the open-circuit voltages at one sun over the sweeps' temperatures
 * (IEC 60891) gives the temperature coefficient, which is combined with the prior value by their
 * variances. Ideality and series resistance scatter between sweeps by more than the standard error
 * of each fit. That scatter is used as their uncertainty, but at least the scatter found in real
 * sweeps of one module.
 */
public final class SweepSet {

  /**
   * Scatter of ideality and series resistance over outdoor sweeps of two modules of 60 cells,
   * relative: 2 to 2.3 and 4.4 to 4.9 %.
   */
  public static final double LEAST_IDEALITY_SD = 0.023;

  public static final double LEAST_SERIES_SD = 0.049;

  /**
   * Suns below which a sweep is not used for shunt and ideality in full sun: the model's shunt
   * conductance is proportional to the light, that of real cells is not, so that the fitted one-sun
   * shunt decreases in low light. Predictions from bright sweeps were valid down to 0.41 suns
   * ({@code OutdoorStudy}).
   */
  public static final double LEAST_SUNS = 0.4;

  /** Temperatures that differ by less do not determine the coefficient, K. */
  private static final double LEAST_KELVIN = 5;

  /** Sigma of a thermometer on the back of a cell, K: common practice, no source. */
  private static final double THERMOMETER_SD = 1;

  /**
   * Smallest sigma of the coefficient, 1/K: different selections of outdoor curves of one module
   * gave -0.31 and -0.35 % per C, because a thermometer behind the cells reads too low in strong
   * light.
   */
  private static final double LEAST_COEFF_SD = 0.0002;

  /** Largest correction of a sweep's temperature to match its voltage, K: engineering judgement. */
  private static final double MOST_KELVIN_OFF = 10;

  /**
   * Scatter of the stated light against the array's current, relative, above which light and
   * temperature are taken not to belong to the sweeps: engineering judgement.
   */
  private static final double MOST_LIGHT_SD = 0.1;

  private static final double MAD_TO_SIGMA = 1.4826;

  private static final double REFERENCE_CELSIUS = 25;
  private static final int MOST_POINTS = 20_000;
  private static final int FEW = 3;

  private final List<FitResult> used;
  private final List<String> leftOut;
  private final StatedLight light;
  private final FitResult joint;
  private double vocCoeff;
  private double vocCoeffSd;
  private final boolean lightDisagrees;
  private boolean coefficientFound;

  /**
   * Fits sweeps together.
   *
   * @param fits two or more
   * @param options how each was fitted
   */
  public SweepSet(List<FitResult> fits, FitOptions options) {
    light = new StatedLight(fits);
    SweepChoice choice = new SweepChoice(fits, light);
    used = choice.used();
    leftOut = choice.leftOut();
    vocCoeff = options.vocCoeffPerKelvin();
    vocCoeffSd = options.vocCoeffSd();
    lightDisagrees = lightDisagrees(choice.bright());
    double[] volts =
        used.stream().mapToDouble(fit -> oneSunVolts(fit, options.iscCoeffPerKelvin())).toArray();
    double[] above =
        used.stream().mapToDouble(fit -> fit.benchCelsius() - REFERENCE_CELSIUS).toArray();
    StraightLine line = StraightLine.through(above, volts);
    findCoefficient(line);
    // a sigma of zero keeps the joint fit from changing the coefficient
    joint = new SingleDiodeFit(joined(line, volts), options.withVocCoeff(vocCoeff, 0)).run();
  }

  private static double median(List<FitResult> fits, ToDoubleFunction<FitResult> of) {
    double[] sorted = fits.stream().mapToDouble(of).sorted().toArray();
    int middle = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
  }

  /** Light of a sweep from its photocurrent. */
  public double suns(FitResult fit) {
    return light.suns(fit);
  }

  /** Voltage of a cell of a sweep in one sun, V. */
  private double oneSunVolts(FitResult fit, double iscCoeff) {
    double[] v = fit.values();
    double oneSun =
        light.photocurrent() * (1 + iscCoeff * (fit.benchCelsius() - REFERENCE_CELSIUS));
    return v[2] * DiodeParameters.thermalVolts(fit.benchCelsius()) * Math.log(oneSun / v[1]);
  }

  private void findCoefficient(StraightLine line) {
    double found = line.slope() / line.intercept();
    boolean plausible = found < 0 && found > -0.01;
    if (celsius(true) - celsius(false) < LEAST_KELVIN || lightDisagrees || !plausible) {
      return;
    }
    double each = Math.max(line.rms() / line.intercept(), THERMOMETER_SD * Math.abs(found));
    double variance = Math.max(square(each / line.spread()), square(LEAST_COEFF_SD));
    double before = square(vocCoeffSd);
    vocCoeff += (found - vocCoeff) * before / (before + variance);
    vocCoeffSd = Math.sqrt(before * variance / (before + variance));
    coefficientFound = true;
  }

  /** Whether lights were stated and the currents are not proportional to them. */
  private boolean lightDisagrees(List<FitResult> bright) {
    double off = median(bright, fit -> Math.abs(logPhotocurrent(fit)));
    return light.stated() && MAD_TO_SIGMA * off > MOST_LIGHT_SD;
  }

  /** Logarithm of a sweep's photocurrent relative to that at one sun. */
  private double logPhotocurrent(FitResult fit) {
    return Math.log(fit.cell().photocurrentAmps() / light.photocurrent());
  }

  private static double square(double v) {
    return v * v;
  }

  private Sweep joined(StraightLine line, double[] volts) {
    int points = used.stream().mapToInt(fit -> fit.sweep().size()).sum();
    int stride = 1 + points / MOST_POINTS;
    double slope = vocCoeff * line.meanValue() / (1 + vocCoeff * line.mean());
    List<Sweep> sweeps = new ArrayList<>();
    for (int i = 0; i < used.size(); i++) {
      Sweep sweep = used.get(i).sweep();
      int[] places = new int[(sweep.size() + stride - 1) / stride];
      Arrays.setAll(places, k -> k * stride);
      double above = used.get(i).benchCelsius() - REFERENCE_CELSIUS - line.mean();
      double off = (volts[i] - line.meanValue()) / slope - above;
      double moved = Math.min(Math.max(off, -MOST_KELVIN_OFF), MOST_KELVIN_OFF);
      sweeps.add(sweep.selecting(places).at(suns(used.get(i)) / sweep.meanSuns(), moved));
    }
    return Sweep.joined(used.size() + " sweeps", sweeps);
  }

  /** Whether stated light and the array's current disagree. */
  public boolean lightOff() {
    return lightDisagrees;
  }

  /** The sweeps not used, each with the reason. */
  public List<String> leftOut() {
    return leftOut;
  }

  /** The sweeps that were bright enough, with lights that agree. */
  public List<FitResult> used() {
    return used;
  }

  /** The joint fit; its bench temperature is their mean. */
  public FitResult joint() {
    return joint;
  }

  /** Warmest or coolest sweep, C. */
  public double celsius(boolean warmest) {
    var all = used.stream().mapToDouble(FitResult::benchCelsius);
    return (warmest ? all.max() : all.min()).orElse(Double.NaN);
  }

  /** Brightest or darkest sweep by its own current, suns. */
  public double suns(boolean brightest) {
    var all = used.stream().mapToDouble(this::suns);
    return (brightest ? all.max() : all.min()).orElse(Double.NaN);
  }

  /** Whether the sweeps contributed to the coefficient. */
  public boolean coefficientFound() {
    return coefficientFound;
  }

  /** Relative coefficient of the open-circuit voltage, 1/K. */
  public double vocCoeff() {
    return vocCoeff;
  }

  /** Its sigma, 1/K. */
  public double vocCoeffSd() {
    return vocCoeffSd;
  }

  /** Scatter of the logarithm of the ideality from sweep to sweep; NaN for fewer than three. */
  public double idealityScatter() {
    return scatter(DiodeParameters.LOG_N, x -> x);
  }

  /** Scatter of the logarithm of the series resistance; NaN for fewer than three. */
  public double seriesScatter() {
    return scatter(DiodeParameters.RS, Math::log);
  }

  /** Scatter of the logarithm of the photocurrent per stated light; NaN if none is stated. */
  public double photocurrentScatter() {
    return light.stated()
        ? scatter(used.stream().mapToDouble(this::logPhotocurrent).toArray())
        : Double.NaN;
  }

  private double scatter(int place, DoubleUnaryOperator log) {
    return scatter(
        used.stream()
            .filter(fit -> fit.isFree(place))
            .mapToDouble(fit -> log.applyAsDouble(fit.theta()[place]))
            .toArray());
  }

  private static double scatter(double[] values) {
    if (values.length < FEW) {
      return Double.NaN;
    }
    double mean = Arrays.stream(values).average().orElse(0);
    double sum = Arrays.stream(values).map(v -> (v - mean) * (v - mean)).sum();
    return Math.sqrt(sum / (values.length - 1));
  }
}
