package org.solarmargin.core.estimator;

/**
 * The estimate after a sample: a buffer that the caller owns and {@link MarginEstimator} refills.
 *
 * <p>Before the first estimate the figures are NaN (the time to zero margin is infinite) and the
 * status is {@link Status#NO_ESTIMATE}. Not safe for use by two threads; pass {@link #snapshot()}
 * to another thread.
 */
public final class MarginReading {

  private Status status = Status.NO_ESTIMATE;
  private double availableWatts = Double.NaN;
  private double availableLowWatts = Double.NaN;
  private double unevenLight;
  private boolean thermometerLeftOut;
  private double demandWatts = Double.NaN;
  private double steadyDemandWatts = Double.NaN;
  private double peakVolts = Double.NaN;
  private double throttleCeiling = Double.NaN;
  private double secondsToZero = Double.POSITIVE_INFINITY;
  private double suns = Double.NaN;
  private double cellCelsius = Double.NaN;

  /** Creates a reading without an estimate. */
  public MarginReading() {}

  /** Returns to the state of a new reading. */
  public void clear() {
    double nan = Double.NaN;
    setStatus(Status.NO_ESTIMATE);
    setAvailable(nan, nan);
    setDemand(nan, nan);
    setPeak(nan, nan);
    setSecondsToZero(Double.POSITIVE_INFINITY);
    setCells(nan, nan);
    unevenLight = 0;
    thermometerLeftOut = false;
  }

  void setThermometerLeftOut(boolean leftOut) {
    thermometerLeftOut = leftOut;
  }

  void setUnevenLight(double probability) {
    unevenLight = probability;
  }

  void setStatus(Status newStatus) {
    status = newStatus;
  }

  /** Estimate and lower bound, W. */
  void setAvailable(double watts, double lowWatts) {
    availableWatts = watts;
    availableLowWatts = lowWatts;
  }

  /** Demand as measured and without sensor noise, W. */
  void setDemand(double watts, double steadyWatts) {
    demandWatts = watts;
    steadyDemandWatts = steadyWatts;
  }

  /** Bus voltage at the peak, V, and the throttle that draws its power. */
  void setPeak(double volts, double ceiling) {
    peakVolts = volts;
    throttleCeiling = ceiling;
  }

  /** Time to zero margin, s. */
  void setSecondsToZero(double seconds) {
    secondsToZero = seconds;
  }

  /** Light and cell temperature, degrees Celsius. */
  void setCells(double newSuns, double celsius) {
    suns = newSuns;
    cellCelsius = celsius;
  }

  /**
   * How far the figures may be trusted.
   *
   * @return never null
   */
  public Status status() {
    return status;
  }

  /**
   * Estimate of the most electrical power that the array could deliver now. From 75 % load on it is
   * the median of the filter; below 55 % load it is biased low by 0.14 sigmas, because
   * overestimation is the costlier error. An uncertain time model, wind that cools the cells and
   * recent faults of the readings bias it low further, at every load.
   *
   * @return W; NaN before the first estimate
   */
  public double availableWatts() {
    return availableWatts;
  }

  /**
   * Lower bound that the available power exceeds with 95 % probability, sensor and cell errors
   * included.
   *
   * @return W, at most {@link #availableWatts()}
   */
  public double availableLowWatts() {
    return availableLowWatts;
  }

  /**
   * Measured bus voltage times measured bus current; the steady demand while the estimate is only
   * propagated.
   *
   * @return W, 0 or more
   */
  public double demandWatts() {
    return demandWatts;
  }

  /**
   * Demand without sensor noise: power at the estimated operating point, smoothed over 0.1 s.
   *
   * @return W
   */
  public double steadyDemandWatts() {
    return steadyDemandWatts;
  }

  /**
   * Available power minus demand.
   *
   * @return W; below zero if the demand exceeds the estimate, by sensor noise or estimation error
   */
  public double marginWatts() {
    return availableWatts - demandWatts;
  }

  /**
   * Lower bound of the available power minus demand.
   *
   * @return W
   */
  public double marginLowWatts() {
    return availableLowWatts - demandWatts;
  }

  /**
   * Bus voltage at the knee.
   *
   * @return V
   */
  public double peakVolts() {
    return peakVolts;
  }

  /**
   * Steady throttle at which the craft would draw all available power in still hover; from 80 to 95
   * % load on it moves to that of the lower bound at the present bus voltage, because a shadow on a
   * few cells cannot be told from even light there.
   *
   * @return 0 to 1
   */
  public double throttleCeiling() {
    return throttleCeiling;
  }

  /**
   * How much more lift the craft could sustain: power is proportional to the 3/2 power of lift
   * (momentum theory).
   *
   * @return percent; limited to 900 if the demand is near zero
   */
  public double liftReservePercent() {
    return liftReservePercent(availableWatts, demandWatts);
  }

  static double liftReservePercent(double availableWatts, double demandWatts) {
    double ratio = availableWatts / Math.max(demandWatts, 1e-3 * availableWatts);
    double growth = Math.cbrt(ratio);
    return Math.min(100 * (growth * growth - 1), 900);
  }

  /**
   * Time until the lower bound of the available power meets the demand, if the trend of the last
   * seconds continues.
   *
   * @return s; positive infinity unless the margin is falling
   */
  public double secondsToZero() {
    return secondsToZero;
  }

  /**
   * Light on the cells, as estimated from the array's photocurrent.
   *
   * @return suns, 1000 W/m2 each
   */
  public double suns() {
    return suns;
  }

  /**
   * Cell temperature.
   *
   * @return degrees Celsius
   */
  public double cellCelsius() {
    return cellCelsius;
  }

  /**
   * Probability that a few cells have less light than the rest, so that the first power peak
   * counted from open circuit limits the flight. The lower bound and the ceiling already allow for
   * a shadow that is only possible; this figure requires twenty times as much evidence.
   *
   * @return 0 to 1; 0 if there is no estimate
   */
  public double unevenLightProbability() {
    return unevenLight;
  }

  /**
   * Whether the measured cell temperature is not used because it deviates from the bus readings and
   * the thermal model by more than three of its sigmas, which include an offset of 3 K.
   *
   * @return true from the first such reading until readings have agreed for ten seconds
   */
  public boolean thermometerLeftOut() {
    return thermometerLeftOut;
  }

  /**
   * An immutable copy, for another thread.
   *
   * @return a new record
   */
  public MarginSnapshot snapshot() {
    return new MarginSnapshot(
        status,
        availableWatts,
        availableLowWatts,
        demandWatts,
        steadyDemandWatts,
        peakVolts,
        throttleCeiling,
        secondsToZero,
        suns,
        cellCelsius,
        unevenLight,
        thermometerLeftOut);
  }

  /**
   * Copies another reading.
   *
   * @param other not null; it is not changed
   */
  public void set(MarginReading other) {
    status = other.status;
    availableWatts = other.availableWatts;
    availableLowWatts = other.availableLowWatts;
    demandWatts = other.demandWatts;
    steadyDemandWatts = other.steadyDemandWatts;
    peakVolts = other.peakVolts;
    throttleCeiling = other.throttleCeiling;
    secondsToZero = other.secondsToZero;
    suns = other.suns;
    cellCelsius = other.cellCelsius;
    unevenLight = other.unevenLight;
    thermometerLeftOut = other.thermometerLeftOut;
  }
}
