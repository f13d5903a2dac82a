package org.solarmargin.cli.fit.sweep;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Function;
import org.solarmargin.cli.csv.NumberTable;

/** Points of a current-voltage curve, in the order in which they were taken. */
public final class Sweep {

  private static final double FULL_SUN = 1000;

  /**
   * A jump of the voltage by this share of its range begins another sweep: engineering judgement.
   */
  private static final double JUMP_BACK = 0.5;

  private final String name;
  private final int series;
  private final int parallel;
  private final double[] volts;
  private final double[] amps;
  private final double[] suns;
  private final double[] celsius;
  private final List<String> leftOut;

  /**
   * A sweep.
   *
   * @param name shown to the user
   * @param series cells in each string
   * @param parallel strings in parallel
   * @param volts V, of the whole array
   * @param amps A, of the whole array
   * @param suns light at each point relative to 1000 W/m2
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
    this(name, series, parallel, volts, amps, suns, celsius, List.of());
  }

  private Sweep(
      String name,
      int series,
      int parallel,
      double[] volts,
      double[] amps,
      double[] suns,
      double[] celsius,
      List<String> leftOut) {
    this.name = name;
    this.series = series;
    this.parallel = parallel;
    this.volts = volts.clone();
    this.amps = amps.clone();
    this.suns = suns.clone();
    this.celsius = celsius.clone();
    this.leftOut = leftOut;
  }

  /** Reads a sweep; light and temperature come from its columns, else from the caller. */
  public static Sweep read(
      Path file, int series, int parallel, double wattsPerM2, double cellCelsius) {
    NumberTable table =
        NumberTable.readEither(
            file,
            List.of("voltage_v"),
            List.of("current_a", "ohm"),
            List.of("irradiance_w_m2", "cell_c"));
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
        name, series, parallel, table.column("voltage_v"), amps(table), light, celsius);
  }

  /** Currents as read, or calculated from the known resistor at each point. */
  private static double[] amps(NumberTable table) {
    if (table.has("current_a")) {
      return table.column("current_a");
    }
    double[] volts = table.column("voltage_v");
    double[] ohms = table.column("ohm");
    for (int i = 0; i < ohms.length; i++) {
      if (!(ohms[i] > 0)) {
        throw table.fault(table.line(i), "ohm must be above 0", String.valueOf(ohms[i]));
      }
      ohms[i] = volts[i] / ohms[i];
    }
    return ohms;
  }

  /**
   * Fills empty values with the mean of the others, or with the caller's value if all are empty.
   */
  private static double[] filled(double[] values, double otherwise) {
    double mean = Arrays.stream(values).filter(v -> !Double.isNaN(v)).average().orElse(otherwise);
    return Arrays.stream(values).map(v -> Double.isNaN(v) ? mean : v).toArray();
  }

  /** The same points with voltage and current exchanged. */
  Sweep swapped() {
    return new Sweep(name, series, parallel, amps, volts, suns, celsius);
  }

  /** The same points, all at the mean light and the mean temperature. */
  Sweep steady() {
    double[] light = new double[volts.length];
    double[] heat = new double[volts.length];
    Arrays.fill(light, meanSuns());
    Arrays.fill(heat, meanCelsius());
    return new Sweep(name, series, parallel, volts, amps, light, heat, leftOut);
  }

  /** The points without some of the lowest and highest voltages. */
  Sweep without(int lowest, int highest) {
    int[] order = byVoltage();
    int[] kept = Arrays.copyOfRange(order, lowest, order.length - highest);
    Arrays.sort(kept);
    return selecting(kept);
  }

  /** Selects points by index. */
  Sweep selecting(int[] places) {
    return new Sweep(
        name,
        series,
        parallel,
        at(volts, places),
        at(amps, places),
        at(suns, places),
        at(celsius, places),
        leftOut);
  }

  /**
   * The same points with each voltage translated approximately to the mean temperature.
   *
   * @param voltsPerKelvin temperature coefficient of the array's voltage, V/K
   */
  Sweep atMeanTemperature(double voltsPerKelvin) {
    double mean = meanCelsius();
    double[] moved = new double[volts.length];
    Arrays.setAll(moved, i -> volts[i] - voltsPerKelvin * (celsius[i] - mean));
    return new Sweep(name, series, parallel, moved, amps, suns, celsius, leftOut);
  }

  /** Joins the points of several sweeps of one array. */
  static Sweep joined(String name, List<Sweep> sweeps) {
    return new Sweep(
        name,
        sweeps.get(0).series,
        sweeps.get(0).parallel,
        all(sweeps, sweep -> sweep.volts),
        all(sweeps, sweep -> sweep.amps),
        all(sweeps, sweep -> sweep.suns),
        all(sweeps, sweep -> sweep.celsius));
  }

  private static double[] all(List<Sweep> sweeps, Function<Sweep, double[]> of) {
    return sweeps.stream().map(of).flatMapToDouble(Arrays::stream).toArray();
  }

  /**
   * The same points with other light and temperature.
   *
   * @param lightFactor factor on the light
   * @param warmer added to the temperature, K
   */
  Sweep at(double lightFactor, double warmer) {
    double[] light = Arrays.stream(suns).map(s -> lightFactor * s).toArray();
    double[] heat = Arrays.stream(celsius).map(c -> c + warmer).toArray();
    return new Sweep(name, series, parallel, volts, amps, light, heat, leftOut);
  }

  private static double[] at(double[] values, int[] places) {
    return Arrays.stream(places).mapToDouble(i -> values[i]).toArray();
  }

  /** The same points with notes on what was left out. */
  Sweep withNotes(List<String> notes) {
    List<String> all = new ArrayList<>(leftOut);
    all.addAll(notes);
    return new Sweep(name, series, parallel, volts, amps, suns, celsius, List.copyOf(all));
  }

  private Sweep named(String other) {
    return new Sweep(other, series, parallel, volts, amps, suns, celsius, leftOut);
  }

  /** What was left out and why, human-readable; usually empty. */
  public List<String> leftOut() {
    return leftOut;
  }

  /**
   * Splits the points into successive sweeps: a new one begins where the voltage jumps by more than
   * half its range.
   */
  public List<Sweep> parts() {
    double range = mostVolts() - Arrays.stream(volts).min().orElse(0);
    List<Sweep> parts = new ArrayList<>();
    int from = 0;
    for (int i = 1; i <= volts.length; i++) {
      if (i == volts.length || Math.abs(volts[i] - volts[i - 1]) > JUMP_BACK * range) {
        int start = from;
        int[] places = new int[i - from];
        Arrays.setAll(places, k -> start + k);
        parts.add(selecting(places).named(name + "#" + (parts.size() + 1)));
        from = i;
      }
    }
    return parts;
  }

  /** Largest minus smallest cell temperature, K. */
  public double celsiusSpread() {
    return Arrays.stream(celsius).max().orElse(0) - Arrays.stream(celsius).min().orElse(0);
  }

  /** Indices of the points by increasing voltage. */
  int[] byVoltage() {
    Integer[] places = new Integer[volts.length];
    Arrays.setAll(places, i -> i);
    Arrays.sort(places, (a, b) -> Double.compare(volts[a], volts[b]));
    return Arrays.stream(places).mapToInt(Integer::intValue).toArray();
  }

  public String name() {
    return name;
  }

  public int series() {
    return series;
  }

  public int parallel() {
    return parallel;
  }

  public int size() {
    return volts.length;
  }

  public double volts(int i) {
    return volts[i];
  }

  public double amps(int i) {
    return amps[i];
  }

  public double suns(int i) {
    return suns[i];
  }

  public double celsius(int i) {
    return celsius[i];
  }

  public double meanSuns() {
    return Arrays.stream(suns).average().orElse(Double.NaN);
  }

  public double meanCelsius() {
    return Arrays.stream(celsius).average().orElse(Double.NaN);
  }

  /** Spread of the light relative to its mean: largest minus smallest. */
  public double sunsSpread() {
    return (Arrays.stream(suns).max().orElse(0) - Arrays.stream(suns).min().orElse(0)) / meanSuns();
  }

  double mostAmps() {
    return Arrays.stream(amps).max().orElse(Double.NaN);
  }

  public double mostVolts() {
    return Arrays.stream(volts).max().orElse(Double.NaN);
  }
}
