package org.solarmargin.sim.flight;

/**
 * One line of the log with its true values; refilled for each sample.
 *
 * <p>The fields are public, because this is a plain buffer that the simulator fills and a watcher
 * reads before it returns.
 */
public final class FlightSample {
  /** Time, s. */
  public double seconds;

  /** Measured bus voltage, V. */
  public double busVolts;

  /** Measured bus current, A. */
  public double busAmps;

  /** Throttle as logged: commanded, on the log's curve, rounded. */
  public double throttle;

  /** True available power, W. */
  public double availableWatts;

  /** True demand, W. */
  public double demandWatts;

  /** True bus voltage, V. */
  public double trueVolts;

  /** True voltage of the knee, V. */
  public double peakVolts;

  /** True light, suns. */
  public double suns;

  /** True cell temperature, degrees Celsius. */
  public double cellCelsius;

  /** True height, m. */
  public double heightMetres;

  /** True throttle ceiling, on the curve of the logged throttle. */
  public double ceiling;

  /** Whether the sensors missed this sample. */
  public boolean missing;

  /** Creates an empty sample. */
  public FlightSample() {}
}
