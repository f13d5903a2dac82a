package org.solarmargin.core.cell;

/**
 * The current-voltage curve of one cell at a given light and temperature.
 *
 * <p>Single-diode model with the translation of W. De Soto, S. Klein, W. Beckman, Solar Energy 80
 * (2006) 78-88: photocurrent and shunt conductance are proportional to the light, the saturation
 * current follows the cube of temperature and a band gap, the thermal voltage is proportional to
 * temperature, and the series resistance is constant. The band gap is an effective one, solved at
 * construction so that the open-circuit voltage at reference conditions falls by the cell's own
 * temperature coefficient; {@code TemperatureLaw} derives it. The curve is explicit in the diode
 * voltage {@code u = V + I Rs}, so every solve is a Newton iteration in u with a fixed bound on its
 * steps. Range: 0 to 3 suns, -60 to 150 degrees Celsius; light below 1e-6 suns is taken as 1e-6.
 * Claimed accuracy: 1e-9 relative in Voc, Isc, Vmp, Imp and Pmp against 40-digit published
 * solutions ({@code PreciseSolutionsTest}).
 *
 * <p>Light: the model's shunt conductance falls in proportion to the light, that of real cells
 * falls more slowly. With a shunt that takes 0.5 % of the current in full sun, the model is 0.8 %
 * optimistic at 0.4 suns, as measured on outdoor curves from 0.41 to 1.22 suns, and by
 * extrapolation some 2 % at 0.2 suns. The model is valid from 0.4 suns on.
 *
 * <p>Mutable and allocation-free; one thread at a time.
 */
public final class CellCurve {

  private static final double SUNS_MIN = 1e-6;
  private static final int ITERATIONS = 60;
  private static final double TOLERANCE = 1e-14;

  /**
   * Newton's method converges quadratically: after a relative step this small, the remaining error
   * is below 1e-11.
   */
  private static final double PEAK_TOLERANCE = 1e-6;

  /** Newton steps after a warm start before a bracket is computed, which costs a logarithm. */
  private static final int FREE_STEPS = 3;

  private static final double K = Physics.BOLTZMANN_VOLTS_PER_KELVIN;

  private final CellParameters cell;
  private final TemperatureLaw law;
  private final double logPhotocurrent;
  private final double logSaturation;

  private double kelvin;
  private double photocurrent;
  private double photocurrentSlope;
  private double logSaturationNow;
  private double logSaturationSlope;
  private double logSaturationPerCoeff;
  private double saturation;
  private double thermalVolts;
  private double seriesOhms;
  private double shuntSiemens;
  private double pivotVolts;
  private double peakDiodeVolts = Double.NaN;
  private double atDiodeVolts;
  private double atExponential;

  /**
   * Creates a curve at 1 sun and 25 degrees Celsius.
   *
   * @param cell the cell, not null
   */
  public CellCurve(CellParameters cell) {
    this.cell = cell;
    law = new TemperatureLaw(cell);
    logPhotocurrent = Math.log(cell.photocurrentAmps());
    logSaturation = Math.log(cell.saturationAmps());
    set(1, Physics.REFERENCE_KELVIN - Physics.ZERO_CELSIUS_KELVIN);
  }

  /**
   * Sets light and temperature.
   *
   * @param suns light over 1000 W/m2, 0 to 3
   * @param celsius cell temperature, -60 to 150
   */
  public void set(double suns, double celsius) {
    setAltered(suns, celsius, 1, 1, 0);
  }

  /**
   * Sets light and temperature for a cell that deviates from its parameters.
   *
   * @param suns light over 1000 W/m2, 0 to 3
   * @param celsius cell temperature, -60 to 150
   * @param seriesFactor factor on the series resistance, more than 0
   * @param idealityFactor factor on the ideality with the open-circuit voltage at 1 sun held, more
   *     than 0
   */
  public void setAltered(double suns, double celsius, double seriesFactor, double idealityFactor) {
    setAltered(suns, celsius, seriesFactor, idealityFactor, 0);
  }

  /**
   * Sets light and temperature for a cell that deviates from its parameters, including its
   * temperature coefficient.
   *
   * @param suns light over 1000 W/m2, 0 to 3
   * @param celsius cell temperature, -60 to 150
   * @param seriesFactor factor on the series resistance, more than 0
   * @param idealityFactor factor on the ideality with the open-circuit voltage at 1 sun held, more
   *     than 0
   * @param vocCoeffShift added to the cell's relative coefficient of the open-circuit voltage, 1/K;
   *     the curve at {@link CellParameters#benchCelsius()} is held
   */
  public void setAltered(
      double suns,
      double celsius,
      double seriesFactor,
      double idealityFactor,
      double vocCoeffShift) {
    double light = Math.max(suns, SUNS_MIN);
    kelvin = celsius + Physics.ZERO_CELSIUS_KELVIN;
    double aboveReference = kelvin - Physics.REFERENCE_KELVIN;
    double plainThermalVolts = cell.ideality() * K * kelvin;
    double logSaturationPlain = logSaturation + law.logGrowth(kelvin, vocCoeffShift);
    photocurrentSlope = light * cell.photocurrentAmps() * cell.photocurrentTempCoeffPerKelvin();
    photocurrent = light * cell.photocurrentAmps() + photocurrentSlope * aboveReference;
    // scaling about the 1-sun open-circuit voltage keeps that voltage while n changes
    double logRatio = logPhotocurrent - logSaturationPlain;
    pivotVolts = plainThermalVolts * logRatio;
    logSaturationNow = logPhotocurrent - logRatio / idealityFactor;
    logSaturationSlope = law.perKelvin(kelvin, vocCoeffShift) / idealityFactor;
    logSaturationPerCoeff = law.perCoefficient(kelvin) / idealityFactor;
    saturation = Math.exp(logSaturationNow);
    thermalVolts = plainThermalVolts * idealityFactor;
    seriesOhms = cell.seriesOhms() * seriesFactor;
    shuntSiemens = light / cell.shuntOhms();
  }

  /**
   * Cell current at a diode voltage.
   *
   * @param diodeVolts u = V + I Rs, V
   * @return A
   */
  public double ampsAtDiode(double diodeVolts) {
    return photocurrent
        + saturation
        - Math.exp(diodeVolts / thermalVolts + logSaturationNow)
        - diodeVolts * shuntSiemens;
  }

  /**
   * Terminal voltage at a current.
   *
   * @param amps cell current, A, below the photocurrent plus a reverse current through the shunt
   * @return V; strongly negative if the current exceeds the photocurrent and the shunt carries the
   *     rest (reverse breakdown is not part of this model)
   */
  public double voltsAt(double amps) {
    double innerAmps = photocurrent + saturation - amps;
    if (innerAmps <= 0 && shuntSiemens == 0) {
      return Double.NEGATIVE_INFINITY;
    }
    // the function is convex: started to the right of the root, Newton's method does not overshoot
    double u =
        innerAmps > 0
            ? thermalVolts * (Math.log(innerAmps) - logSaturationNow)
            : innerAmps / shuntSiemens;
    for (int i = 0; i < ITERATIONS; i++) {
      double e = Math.exp(u / thermalVolts + logSaturationNow);
      double step = (innerAmps - e - u * shuntSiemens) / (e / thermalVolts + shuntSiemens);
      u += step;
      if (Math.abs(step) <= TOLERANCE * (1 + Math.abs(u))) {
        break;
      }
    }
    return u - amps * seriesOhms;
  }

  /**
   * Cell current at a terminal voltage.
   *
   * @param volts V, any finite value
   * @return A
   */
  public double ampsAt(double volts) {
    double open = openCircuitVolts();
    // the diode voltage exceeds the terminal voltage by I Rs, between 0 and Isc Rs left of Voc
    double u = volts >= open ? volts : Math.min(open, volts + photocurrent * seriesOhms);
    for (int i = 0; i < ITERATIONS; i++) {
      double e = Math.exp(u / thermalVolts + logSaturationNow);
      double amps = photocurrent + saturation - e - u * shuntSiemens;
      double slope = 1 + seriesOhms * (e / thermalVolts + shuntSiemens);
      double step = -(u - amps * seriesOhms - volts) / slope;
      u += step;
      if (Math.abs(step) <= TOLERANCE * (1 + Math.abs(u))) {
        break;
      }
    }
    return ampsAtDiode(u);
  }

  /**
   * Open-circuit voltage.
   *
   * @return V
   */
  public double openCircuitVolts() {
    return voltsAt(0);
  }

  /**
   * Open-circuit voltage without the shunt: never below the true one, and fast to compute.
   *
   * @return V
   */
  public double openCircuitEstimate() {
    return thermalVolts * (Math.log(photocurrent + saturation) - logSaturationNow);
  }

  /**
   * Voltage over which the diode's current grows by a factor of e: ideality times k T / q.
   *
   * @return V
   */
  public double thermalVolts() {
    return thermalVolts;
  }

  /**
   * Saturation current at the present temperature.
   *
   * @return A
   */
  public double saturationAmps() {
    return saturation;
  }

  /**
   * Current that the light generates, at the present light and temperature.
   *
   * @return A
   */
  public double photocurrentAmps() {
    return photocurrent;
  }

  /**
   * Short-circuit current.
   *
   * @return A
   */
  public double shortCircuitAmps() {
    return ampsAt(0);
  }

  /**
   * Solves for the maximum power point, which the peak methods and the {@code at...} methods then
   * return. The solve starts from the last solution if there is one.
   */
  public void solvePeak() {
    boolean warm = peakDiodeVolts > 0;
    double high = warm ? Double.POSITIVE_INFINITY : openCircuitEstimate();
    double u = warm ? peakDiodeVolts : high - 2 * thermalVolts;
    double low = 0;
    for (int i = 0; i < ITERATIONS; i++) {
      if (i == FREE_STEPS) {
        high = Math.min(high, openCircuitEstimate());
        u = Math.min(u, high);
      }
      double e = Math.exp(u / thermalVolts + logSaturationNow);
      double amps = photocurrent + saturation - e - u * shuntSiemens;
      double conductance = e / thermalVolts + shuntSiemens;
      double span = u - 2 * seriesOhms * amps;
      double slope = amps - conductance * span;
      if (slope > 0) {
        low = u;
      } else {
        high = u;
      }
      double curvature =
          -2 * conductance
              - 2 * seriesOhms * conductance * conductance
              - e / (thermalVolts * thermalVolts) * span;
      double next = u - slope / curvature;
      if (!(next > low && next < high)) {
        high = Math.min(high, openCircuitEstimate());
        next = 0.5 * (low + high);
      }
      double step = next - u;
      atDiodeVolts = u;
      atExponential = e;
      u = next;
      if (Math.abs(step) <= PEAK_TOLERANCE * u) {
        nudge(step);
        peakDiodeVolts = u;
        return;
      }
    }
    peakDiodeVolts = u;
    moveTo(u);
  }

  /**
   * Discards the warm start, so that the next {@link #solvePeak()} does not depend on earlier ones.
   */
  public void forgetPeak() {
    peakDiodeVolts = Double.NaN;
  }

  /**
   * Diode voltage at the peak of the last {@link #solvePeak()}.
   *
   * @return V; NaN before the first solve
   */
  public double peakDiodeVolts() {
    return peakDiodeVolts;
  }

  /**
   * Current at the peak.
   *
   * @return A
   */
  public double peakAmps() {
    return ampsAtDiode(peakDiodeVolts);
  }

  /**
   * Terminal voltage at the peak.
   *
   * @return V
   */
  public double peakVolts() {
    return peakDiodeVolts - peakAmps() * seriesOhms;
  }

  /**
   * Evaluates the curve at a diode voltage; the {@code at...} methods then return the values at
   * that point without another exponential.
   *
   * @param diodeVolts u, V
   */
  public void moveTo(double diodeVolts) {
    atDiodeVolts = diodeVolts;
    atExponential = Math.exp(diodeVolts / thermalVolts + logSaturationNow);
  }

  /**
   * Moves the point by a small step, updating the exponential by its series to second order.
   *
   * @param diodeVolts the step, V; for 1e-4 V the current's error is below 1e-6 of the diode
   *     current
   */
  public void nudge(double diodeVolts) {
    double share = diodeVolts / thermalVolts;
    atDiodeVolts += diodeVolts;
    atExponential *= 1 + share * (1 + 0.5 * share);
  }

  /**
   * Current at the point.
   *
   * @return A
   */
  public double atAmps() {
    return photocurrent + saturation - atExponential - atDiodeVolts * shuntSiemens;
  }

  /**
   * Negative slope of current with diode voltage at the point.
   *
   * @return -dI/du, A/V, more than 0
   */
  public double atConductance() {
    return atExponential / thermalVolts + shuntSiemens;
  }

  /**
   * Derivative of current with respect to the logarithm of the light at constant diode voltage.
   *
   * @return A
   */
  public double atAmpsPerLogSuns() {
    return photocurrent - atDiodeVolts * shuntSiemens;
  }

  /**
   * Derivative of current with respect to cell temperature at constant diode voltage.
   *
   * @return A/K
   */
  public double atAmpsPerKelvin() {
    return photocurrentSlope
        - atExponential * (logSaturationSlope - atDiodeVolts / (thermalVolts * kelvin));
  }

  /**
   * Derivative of current with respect to the logarithm of the ideality factor at constant diode
   * voltage.
   *
   * @return A
   */
  public double atAmpsPerLogIdeality() {
    return atExponential * (atDiodeVolts - pivotVolts) / thermalVolts;
  }

  /**
   * Derivative of current with respect to the relative temperature coefficient of the open-circuit
   * voltage at constant diode voltage.
   *
   * @return A per 1/K; 0 at the bench temperature
   */
  public double atAmpsPerVocCoeff() {
    return -atExponential * logSaturationPerCoeff;
  }

  /**
   * Present series resistance.
   *
   * @return ohm
   */
  public double seriesOhms() {
    return seriesOhms;
  }
}
