package org.solarmargin.cli.outlook;

import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.init.HoverGuess;
import picocli.CommandLine.Option;

/** Options of a craft to be sized, and the assumptions. */
final class SizeOptions {

  /** Largest hover power of a craft's profile, W. */
  static final double MOST_WATTS = 1e6;

  /** Least mass of a craft, kg. */
  static final double LEAST_KILOGRAMS = 0.01;

  /** Largest diameter of a propeller, m. */
  static final double LARGEST_DIAMETER = 5;

  @Option(
      names = "--mass-kg",
      required = true,
      paramLabel = "KG",
      description = "mass of everything except the cells and their supports")
  private double mass;

  @Option(
      names = "--rotors",
      defaultValue = "4",
      paramLabel = "N",
      description = "number of rotors (default: ${DEFAULT-VALUE})")
  private int rotors;

  @Option(
      names = "--diameter-m",
      required = true,
      paramLabel = "M",
      description = "diameter of each propeller")
  private double diameter;

  @Option(
      names = "--isc",
      required = true,
      paramLabel = "A",
      description = "short-circuit current of one cell")
  private double isc;

  @Option(
      names = "--voc",
      required = true,
      paramLabel = "V",
      description = "open-circuit voltage of one cell")
  private double voc;

  @Option(
      names = "--imp",
      required = true,
      paramLabel = "A",
      description = "current of one cell at the MPP")
  private double imp;

  @Option(
      names = "--vmp",
      required = true,
      paramLabel = "V",
      description = "voltage of one cell at the MPP")
  private double vmp;

  @Option(
      names = "--reserve",
      defaultValue = "30",
      paramLabel = "PCT",
      description =
          "required reserve of the lower bound over hover power, percent (default:"
              + " ${DEFAULT-VALUE})")
  private double reserve;

  @Option(
      names = "--cell-kg",
      defaultValue = "0.0075",
      paramLabel = "KG",
      description = "mass of a cell with its wiring (default: ${DEFAULT-VALUE})")
  private double cellKilograms;

  @Option(
      names = "--frame-kg",
      defaultValue = "0.004",
      paramLabel = "KG",
      description = "mass of the support of a cell (default: ${DEFAULT-VALUE})")
  private double frameKilograms;

  @Option(
      names = "--merit",
      defaultValue = "0.62",
      paramLabel = "FM",
      description = "figure of merit of the propellers (default: ${DEFAULT-VALUE})")
  private double merit;

  @Option(
      names = "--drive",
      defaultValue = "0.81",
      paramLabel = "SHARE",
      description = "efficiency of motors and controllers together (default: ${DEFAULT-VALUE})")
  private double drive;

  @Option(
      names = "--mismatch",
      defaultValue = "3",
      paramLabel = "PCT",
      description =
          "power lost to unequal cells, wiring and a cracked cell, percent (default:"
              + " ${DEFAULT-VALUE})")
  private double mismatch;

  @Option(
      names = "--house-w",
      defaultValue = "3",
      paramLabel = "W",
      description = "housekeeping power, everything but the motors (default: ${DEFAULT-VALUE})")
  private double housekeepingWatts;

  @Option(
      names = "--most-v",
      defaultValue = "60",
      paramLabel = "V",
      description =
          "highest open-circuit voltage, as limited by the motor controllers (default:"
              + " ${DEFAULT-VALUE})")
  private double mostVolts;

  @Option(
      names = "--most-strings",
      defaultValue = "4",
      paramLabel = "M",
      description = "most strings in parallel (default: ${DEFAULT-VALUE})")
  private int mostStrings;

  /** Options, filled in by picocli. */
  SizeOptions() {}

  /** Refuses values out of range. */
  void check() {
    require(
        mass > LEAST_KILOGRAMS && mass < 100,
        "--mass-kg must be in (0.01, 100) kg, not in grams",
        mass);
    require(rotors >= 1 && rotors <= 64, "--rotors must be in [1, 64]", rotors);
    require(
        diameter >= 0.05 && diameter <= LARGEST_DIAMETER,
        "--diameter-m must be in [0.05, 5] m",
        diameter);
    require(merit > 0.2 && merit < 0.9, "--merit must be in (0.2, 0.9)", merit);
    require(drive > 0.3 && drive <= 1, "--drive must be in (0.3, 1]", drive);
    require(mismatch >= 0 && mismatch < 50, "--mismatch must be in [0, 50) percent", mismatch);
    require(
        cellKilograms >= 0 && cellKilograms < 1, "--cell-kg must be in [0, 1) kg", cellKilograms);
    require(
        frameKilograms >= 0 && frameKilograms < 1, "--frame-kg must be in [0, 1)", frameKilograms);
    require(
        mostStrings >= 1 && mostStrings <= 50, "--most-strings must be in [1, 50]", mostStrings);
    require(mostVolts > 1 && mostVolts <= 1000, "--most-v must be in (1, 1000] V", mostVolts);
    require(reserve >= 0 && reserve <= 500, "--reserve must be in [0, 500] percent", reserve);
    require(
        housekeepingWatts >= 0 && housekeepingWatts < 1000,
        "--house-w must be in [0, 1000) W",
        housekeepingWatts);
    require(
        hoverWatts(1) < MOST_WATTS,
        "--mass-kg and --diameter-m must be such that hover takes less than 1 MW, not this many W",
        hoverWatts(1));
  }

  private static void require(boolean holds, String rule, double value) {
    if (!holds) {
      throw new IllegalArgumentException(rule + ": " + value);
    }
  }

  double kilograms(int cells) {
    return mass + cells * (cellKilograms + frameKilograms);
  }

  double massWithoutCells() {
    return mass;
  }

  /** Power of a hover in still air at sea level with a number of cells, W. */
  double hoverWatts(int cells) {
    return housekeepingWatts
        + HoverGuess.motorWatts(kilograms(cells), rotors, diameter, merit, drive);
  }

  int rotors() {
    return rotors;
  }

  double diameter() {
    return diameter;
  }

  double reserve() {
    return reserve;
  }

  double mismatch() {
    return mismatch;
  }

  double housekeepingWatts() {
    return housekeepingWatts;
  }

  double mostVolts() {
    return mostVolts;
  }

  int mostStrings() {
    return mostStrings;
  }

  /** The limits of the array, each with the option that sets it. */
  String limits() {
    return String.format(
        Locale.ROOT,
        "--most-v %.0f, --most-strings %d and %d cells",
        mostVolts,
        mostStrings,
        SizeSearch.MOST_CELLS);
  }

  /** Lines of the cell's data sheet by key. */
  List<String[]> sheet() {
    return List.of(
        new String[] {"cell.isc_a", "" + isc},
        new String[] {"cell.voc_v", "" + voc},
        new String[] {"cell.impp_a", "" + imp},
        new String[] {"cell.vmpp_v", "" + vmp});
  }

  /** Human-readable assumptions, each with the option that overrides it. */
  List<String> assumptions() {
    return List.of(
        text("a cell with its wiring weighs %.1f g (--cell-kg)", 1000 * cellKilograms),
        text("the support of a cell weighs %.1f g (--frame-kg)", 1000 * frameKilograms),
        text("figure of merit %.2f (--merit): common practice, no source", merit),
        text(
            "efficiency of motors and controllers %.2f (--drive): common practice, no source",
            drive),
        text("unequal and cracked cells lose %.1f %% of the power (--mismatch)", mismatch),
        text("%.1f W for housekeeping (--house-w)", housekeepingWatts),
        text("the bus stays below %.0f V at open circuit and 25 C (--most-v)", mostVolts));
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }
}
