package org.solarmargin.core.estimator;

/**
 * What the estimator says after a sample: a buffer that the caller owns and {@link MarginEstimator}
 * refills.
 *
 * <p>Before the first estimate every figure is NaN and the status is {@link Status#NO_ESTIMATE}.
 * Not safe for use by two threads; hand {@link #snapshot()} to another thread.
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

  /** A reading with nothing in it. */
  public MarginReading() {}

  /** Forgets everything: the state of a new reading. */
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

  /** As read and without sensor noise, W. */
  void setDemand(double watts, double steadyWatts) {
    demandWatts = watts;
    steadyDemandWatts = steadyWatts;
  }

  /** Bus voltage of the peak, V, and the throttle that draws all of it. */
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
   * How far to trust the figures.
   *
   * @return never null
   */
  public Status status() {
    return status;
  }

  /**
   * Most electrical power that the array could deliver now: the median of what is believed near the
   * knee, 0.18 sigmas under it below 55 % load, for too much costs a craft and too little a detour.
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
   * Measured bus voltage times measured bus current.
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
   * @return W, negative only by sensor noise or past the knee's far side
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
   * Steady throttle at which the craft would draw all available power in still hover.
   *
   * @return 0 to 1
   */
  public double throttleCeiling() {
    return throttleCeiling;
  }

  /**
   * How much more lift the craft could hold: power goes with the 3/2 power of lift (momentum
   * theory).
   *
   * @return percent; capped at 900 where the demand is next to nothing
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
   * Time until the lower bound of the available power meets the demand, if both go on as in the
   * last seconds.
   *
   * @return s; positive infinity unless the margin is falling
   */
  public double secondsToZero() {
    return secondsToZero;
  }

  /**
   * Light on the cells, as the array's photocurrent shows it.
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
   * How far the readings prove that a few cells have less light than the rest, so that the first
   * power peak from open circuit down is what can be flown. The lower bound and the ceiling carry a
   * shadow that may be there; this says that there is one, and asks for twenty times the evidence.
   *
   * @return 0 to 1; 0 where there is no estimate
   */
  public double unevenLightProbability() {
    return unevenLight;
  }

  /**
   * Whether the cell temperature that is read stands so far from what the bus and the thermal model
   * say (more than three of its sigmas, 3 K of offset among them) that the estimate goes without
   * it.
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
   * Takes over another reading.
   *
   * @param other not null; left as it is
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
