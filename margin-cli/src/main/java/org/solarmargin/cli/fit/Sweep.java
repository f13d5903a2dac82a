package org.solarmargin.cli.fit;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;

/** Points of a current-voltage curve, in the order in which they were taken. */
final class Sweep {

  private static final double FULL_SUN = 1000;

  private final String name;
  private final int series;
  private final int parallel;
  private final double[] volts;
  private final double[] amps;
  private final double[] suns;
  private final double[] celsius;

  /**
   * A sweep.
   *
   * @param name for people
   * @param series cells in each string
   * @param parallel strings side by side
   * @param volts V, of the whole array
   * @param amps A, of the whole array
   * @param suns light at each point over 1000 W/m2
   * @param celsius cell temperature at each point
   */
  Sweep(
      String name,
      int series,
      int parallel,
      double[] volts,
      double[] amps,
      double[] suns,
      double[] celsius) {
    this.name = name;
    this.series = series;
    this.parallel = parallel;
    this.volts = volts.clone();
    this.amps = amps.clone();
    this.suns = suns.clone();
    this.celsius = celsius.clone();
  }

  /** Reads a sweep; light and temperature come from its columns, else from the caller. */
  static Sweep read(Path file, int series, int parallel, double wattsPerM2, double cellCelsius) {
    NumberTable table =
        NumberTable.read(
            file, List.of("voltage_v", "current_a"), List.of("irradiance_w_m2", "cell_c"));
    double[] light = filled(table.column("irradiance_w_m2"), wattsPerM2);
    double[] celsius = filled(table.column("cell_c"), cellCelsius);
    for (int i = 0; i < light.length; i++) {
      light[i] /= FULL_SUN;
      if (!(light[i] >= 0.01 && light[i] <= 2.5)) {
        String value = String.valueOf(light[i] * FULL_SUN);
        throw table.fault(table.line(i), "irradiance_w_m2 must be in [10, 2500]", value);
      }
      if (!(celsius[i] >= -50 && celsius[i] <= 130)) {
        String value = String.valueOf(celsius[i]);
        throw table.fault(table.line(i), "cell_c must be in [-50, 130]", value);
      }
    }
    String name = file.getFileName().toString();
    return new Sweep(
        name,
        series,
        parallel,
        table.column("voltage_v"),
        table.column("current_a"),
        light,
        celsius);
  }

  /** Where a line leaves it empty, the mean of those that do not; the caller's if all do. */
  private static double[] filled(double[] values, double otherwise) {
    double mean = Arrays.stream(values).filter(v -> !Double.isNaN(v)).average().orElse(otherwise);
    return Arrays.stream(values).map(v -> Double.isNaN(v) ? mean : v).toArray();
  }

  /** The same points with voltage and current exchanged. */
  Sweep swapped() {
    return new Sweep(name, series, parallel, amps, volts, suns, celsius);
  }

  /** The same points, all in the mean light at the mean temperature. */
  Sweep steady() {
    double[] light = new double[volts.length];
    double[] heat = new double[volts.length];
    Arrays.fill(light, meanSuns());
    Arrays.fill(heat, meanCelsius());
    return new Sweep(name, series, parallel, volts, amps, light, heat);
  }

  /** Places of the points by rising voltage. */
  int[] byVoltage() {
    Integer[] places = new Integer[volts.length];
    Arrays.setAll(places, i -> i);
    Arrays.sort(places, (a, b) -> Double.compare(volts[a], volts[b]));
    return Arrays.stream(places).mapToInt(Integer::intValue).toArray();
  }

  String name() {
    return name;
  }

  int series() {
    return series;
  }

  int parallel() {
    return parallel;
  }

  int size() {
    return volts.length;
  }

  double volts(int i) {
    return volts[i];
  }

  double amps(int i) {
    return amps[i];
  }

  double suns(int i) {
    return suns[i];
  }

  double celsius(int i) {
    return celsius[i];
  }

  double meanSuns() {
    return Arrays.stream(suns).average().orElse(Double.NaN);
  }

  double meanCelsius() {
    return Arrays.stream(celsius).average().orElse(Double.NaN);
  }

  /** Spread of the light over its mean, largest minus smallest. */
  double sunsSpread() {
    return (Arrays.stream(suns).max().orElse(0) - Arrays.stream(suns).min().orElse(0)) / meanSuns();
  }

  double mostAmps() {
    return Arrays.stream(amps).max().orElse(Double.NaN);
  }

  double mostVolts() {
    return Arrays.stream(volts).max().orElse(Double.NaN);
  }
}
