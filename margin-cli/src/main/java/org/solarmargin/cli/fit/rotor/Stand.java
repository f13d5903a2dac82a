package org.solarmargin.cli.fit.rotor;

import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.csv.NumberTable;
import org.solarmargin.cli.file.InputFault;

/** Readings of a thrust stand, one row each. */
public final class Stand {

  private static final int FEWEST = 4;

  /**
   * Least plausible thrust per watt: a tenth of that of small ducted fans, and several times what
   * kilograms or newtons in place of grams would give. Engineering judgement.
   */
  private static final double LEAST_GRAMS_PER_WATT = 0.3;

  /** An ideal duct needs 1 / sqrt 2 of the power of an open propeller (momentum theory). */
  private static final double DUCT = Math.sqrt(2);

  private static final double GRAVITY = 9.80665;

  private final String name;
  private final double[] throttle;
  private final double[] volts;
  private final double[] amps;
  private final double[] grams;

  private Stand(String name, double[] throttle, double[] volts, double[] amps, double[] grams) {
    this.name = name;
    this.throttle = throttle;
    this.volts = volts;
    this.amps = amps;
    this.grams = grams;
  }

  /** Reads and checks the table. */
  public static Stand read(Path file) {
    NumberTable table =
        NumberTable.read(file, List.of("throttle", "bus_v", "bus_a"), List.of("thrust_g", "rpm"));
    double[] throttle = table.column("throttle");
    double[] volts = table.column("bus_v");
    double[] amps = table.column("bus_a");
    double[] grams = table.column("thrust_g");
    int running = 0;
    for (int i = 0; i < throttle.length; i++) {
      check(
          table,
          i,
          throttle[i] >= 0 && throttle[i] <= 1,
          "throttle must be in [0, 1]",
          throttle[i]);
      check(table, i, volts[i] > 0 && volts[i] < 2000, "bus_v must be in (0, 2000) V", volts[i]);
      check(table, i, Math.abs(amps[i]) < 2000, "bus_a must be under 2000 A", amps[i]);
      boolean weighed = Double.isNaN(grams[i]) || Math.abs(grams[i]) < 1e6;
      check(table, i, weighed, "thrust_g must be under 1e6 g", grams[i]);
      running += throttle[i] > 0.05 && amps[i] > 0 ? 1 : 0;
    }
    checkGrams(table, watts(volts, amps), grams);
    if (running < FEWEST) {
      throw new InputFault(
          file
              + ": at least "
              + FEWEST
              + " rows with turning rotors are required: "
              + running
              + ": measure at more throttle settings");
    }
    return new Stand(file.getFileName().toString(), throttle, volts, amps, grams);
  }

  private static double[] watts(double[] volts, double[] amps) {
    double[] watts = new double[volts.length];
    Arrays.setAll(watts, i -> volts[i] * amps[i]);
    return watts;
  }

  /** Refuses kilograms or newtons in place of grams, which would make the hover power wrong. */
  private static void checkGrams(NumberTable table, double[] watts, double[] grams) {
    int most = 0;
    for (int i = 1; i < grams.length; i++) {
      most = grams[i] > grams[most] || Double.isNaN(grams[most]) ? i : most;
    }
    if (grams.length > 0 && grams[most] > 0 && grams[most] < LEAST_GRAMS_PER_WATT * watts[most]) {
      String rule =
          String.format(
              Locale.ROOT,
              "the greatest thrust_g is below %.1f g per watt, less than any propeller gives: are"
                  + " these kilograms or newtons? write grams",
              LEAST_GRAMS_PER_WATT);
      throw table.fault(
          table.line(most),
          rule,
          String.format(Locale.ROOT, "%.4g at %.4g W", grams[most], watts[most]));
    }
  }

  /**
   * Refuses more thrust than momentum theory gives for the power, which a wrong unit, the thrust of
   * several motors or a wrong diameter would make; hover power would be too low.
   *
   * @param diameter diameter of each propeller, m; NaN if not known
   * @param motors motors on the stand
   * @param density air density at the stand, kg/m3
   */
  public void requirePossible(double diameter, int motors, double density) {
    double discs = motors * Math.PI * diameter * diameter / 4;
    for (int i = 0; i < grams.length; i++) {
      double ideal = Math.cbrt(2 * density * discs * Math.pow(DUCT * watts(i), 2));
      double most = 1000 * ideal / GRAVITY;
      if (watts(i) > 0 && grams[i] > most) {
        throw new InputFault(
            String.format(
                Locale.ROOT,
                "%s: thrust_g of %.4g at %.4g W is more than %.4g, which an ideal propeller of %.4g"
                    + " m gives on each of %d motors: write grams, state the motors on the stand"
                    + " (--motors), or correct rotor.diameter_m in the profile",
                name,
                grams[i],
                watts(i),
                most,
                diameter,
                motors));
      }
    }
  }

  private static void check(NumberTable table, int row, boolean holds, String rule, double value) {
    if (!holds) {
      throw table.fault(table.line(row), rule, String.valueOf(value));
    }
  }

  public String name() {
    return name;
  }

  public int size() {
    return throttle.length;
  }

  public double throttle(int i) {
    return throttle[i];
  }

  double volts(int i) {
    return volts[i];
  }

  double amps(int i) {
    return amps[i];
  }

  /** Thrust, g; NaN if not measured. */
  public double grams(int i) {
    return grams[i];
  }

  public double watts(int i) {
    return volts[i] * amps[i];
  }
}
