package org.solarmargin.core.estimator;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/**
 * A simple and slow flight for tests: the array's own equations, a motor as a differential
 * equation, and a throttle that varies randomly about hover. Refilled by {@link #next()}.
 */
public final class TestFlight {

  private static final double MOTOR_OHMS = 0.17;
  private static final double LOAD_AMPS_PER_VOLT2 = 0.0275;
  private static final double INERTIA = 0.12;
  private static final double HOUSE = 3.5;
  private static final int SUBSTEPS = 20;

  private final SolarArray array;
  private final DoubleUnaryOperator air;
  private final DoubleUnaryOperator light;
  private final DoubleUnaryOperator hover;
  private final double step;
  private final Random random;
  private double celsius = Double.NaN;
  private double emf = 13.6;
  private double variation;
  private double gust;

  /** Time, s. */
  public double seconds;

  /** Readings. */
  public double busVolts;

  /** Reading, A. */
  public double busAmps;

  /** Command. */
  public double throttle;

  /** Truth, W. */
  public double availableWatts;

  /** Truth, W. */
  public double demandWatts;

  /** Truth, V. */
  public double peakVolts;

  /** Truth, V. */
  public double trueVolts = 29;

  /** Truth, suns and degrees Celsius. */
  public double suns;

  /** Truth, degrees Celsius. */
  public double cellCelsius;

  /**
   * Creates a flight.
   *
   * @param light suns over time
   * @param hover throttle about which the command varies, over time
   * @param hertz sample rate, Hz
   * @param seed seed of throttle and noise
   */
  public TestFlight(DoubleUnaryOperator light, DoubleUnaryOperator hover, double hertz, long seed) {
    this(light, hover, t -> 0, TestCraft.SETTINGS.cell(), hertz, seed);
  }

  /**
   * Creates a flight with air and cells other than the profile's.
   *
   * @param light suns over time
   * @param hover throttle about which the command varies, over time
   * @param air air temperature minus the profile's, K, over time
   * @param cell the cells
   * @param hertz sample rate, Hz
   * @param seed seed of throttle and noise
   */
  public TestFlight(
      DoubleUnaryOperator light,
      DoubleUnaryOperator hover,
      DoubleUnaryOperator air,
      CellParameters cell,
      double hertz,
      long seed) {
    this.array =
        new SolarArray(
            cell, TestCraft.SETTINGS.seriesCells(), TestCraft.SETTINGS.parallelStrings());
    this.air = air;
    this.light = light;
    this.hover = hover;
    this.step = 1 / hertz;
    this.random = new Random(seed);
    this.seconds = -step;
  }

  /** Advances by one sample. */
  public void next() {
    // the throttle varies as at 50 Hz for any sample rate
    double keep = Math.exp(-step / 0.06);
    double gustKeep = Math.exp(-step / 0.6);
    double h = step / SUBSTEPS;
    for (int i = 0; i < SUBSTEPS; i++) {
      double motor = Math.max(throttle * trueVolts - emf, 0) / MOTOR_OHMS;
      double load = LOAD_AMPS_PER_VOLT2 * Math.exp(gust) * emf * emf;
      emf = Math.max(emf + (motor - load) * MOTOR_OHMS / INERTIA * h, 0);
    }
    seconds += step;
    variation = keep * variation + Math.sqrt(1 - keep * keep) * 0.008 * random.nextGaussian();
    gust = gustKeep * gust + Math.sqrt(1 - gustKeep * gustKeep) * 0.1 * random.nextGaussian();
    throttle = Math.min(Math.max(hover.applyAsDouble(seconds) + variation, 0), 1);
    suns = light.applyAsDouble(seconds);
    double target = 22 + air.applyAsDouble(seconds) + 25 * suns;
    celsius = Double.isNaN(celsius) ? target : target + (celsius - target) * Math.exp(-step / 15);
    cellCelsius = celsius;
    array.set(suns, celsius);
    solveBus();
    array.solvePeak();
    availableWatts = array.peakWatts();
    peakVolts = array.peakVolts();
    double amps = array.ampsAt(trueVolts);
    demandWatts = trueVolts * amps;
    busVolts = 0.008 * Math.rint((trueVolts + 0.02 * random.nextGaussian()) / 0.008);
    busAmps = 0.01 * Math.rint((amps + 0.05 * random.nextGaussian()) / 0.01);
  }

  private void solveBus() {
    double low = 0;
    double high = array.openCircuitVolts();
    for (int i = 0; i < 60; i++) {
      double volts = 0.5 * (low + high);
      double drive = Math.max(throttle * volts - emf, 0);
      double load = throttle * drive / MOTOR_OHMS + HOUSE / Math.max(volts, 5);
      if (array.ampsAt(volts) > load) {
        low = volts;
      } else {
        high = volts;
      }
    }
    trueVolts = 0.5 * (low + high);
  }
}
