package org.solarmargin.cli.fit.sweep;

import java.util.Arrays;
import java.util.Random;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Computes sweeps of a cell, for tests. */
public final class Curves {

  private Curves() {}

  /**
   * Points from short to open circuit, denser towards open circuit as a load box gives them.
   *
   * @param noise sigma of the current relative to the short-circuit current
   */
  public static Sweep of(
      CellParameters cell,
      int series,
      int parallel,
      double suns,
      double celsius,
      int points,
      double noise,
      long seed) {
    SolarArray array = new SolarArray(cell, series, parallel);
    array.set(suns, celsius);
    Random random = new Random(seed);
    double open = array.openCircuitVolts();
    double isc = array.shortCircuitAmps();
    double[] volts = new double[points];
    double[] amps = new double[points];
    for (int i = 0; i < points; i++) {
      volts[i] = open * Math.sqrt((double) i / (points - 1));
      amps[i] = array.ampsAt(volts[i]) + noise * isc * random.nextGaussian();
    }
    return sweep(series, parallel, suns, celsius, volts, amps);
  }

  public static Sweep sweep(
      int series, int parallel, double suns, double celsius, double[] volts, double[] amps) {
    double[] light = new double[volts.length];
    double[] heat = new double[volts.length];
    Arrays.fill(light, suns);
    Arrays.fill(heat, celsius);
    return new Sweep("test", series, parallel, volts, amps, light, heat);
  }
}
