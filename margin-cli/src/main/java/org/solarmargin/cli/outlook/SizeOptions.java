package org.solarmargin.cli.outlook;

import java.util.List;
import java.util.Locale;
import picocli.CommandLine.Option;

/** What is given of a craft that is to be sized, and what is assumed. */
final class SizeOptions {

  @Option(
      names = "--mass-kg",
      required = true,
      paramLabel = "KG",
      description = "everything but cells and what carries them")
  private double mass;

  @Option(names = "--rotors", defaultValue = "4", paramLabel = "N", description = "how many")
  private int rotors;

  @Option(
      names = "--diameter-m",
      required = true,
      paramLabel = "M",
      description = "of each propeller")
  private double diameter;

  @Option(names = "--isc", required = true, paramLabel = "A", description = "of a cell")
  private double isc;

  @Option(names = "--voc", required = true, paramLabel = "V", description = "of a cell")
  private double voc;

  @Option(names = "--imp", required = true, paramLabel = "A", description = "of a cell, at the MPP")
  private double imp;

  @Option(names = "--vmp", required = true, paramLabel = "V", description = "of a cell, at the MPP")
  private double vmp;

  @Option(
      names = "--reserve",
      defaultValue = "30",
      paramLabel = "PCT",
      description = "lower bound over hover, percent (default: ${DEFAULT-VALUE})")
  private double reserve;

  @Option(
      names = "--cell-kg",
      defaultValue = "0.0075",
      paramLabel = "KG",
      description = "a cell with its wiring (default: ${DEFAULT-VALUE})")
  private double cellKilograms;

  @Option(
      names = "--frame-kg",
      defaultValue = "0.004",
      paramLabel = "KG",
      description = "what carries a cell (default: ${DEFAULT-VALUE})")
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
      description = "what motors and controllers leave (default: ${DEFAULT-VALUE})")
  private double drive;

  @Option(
      names = "--mismatch",
      defaultValue = "3",
      paramLabel = "PCT",
      description =
          "power that unequal cells, wiring and a cracked cell take, percent (default:"
              + " ${DEFAULT-VALUE})")
  private double mismatch;

  @Option(
      names = "--house-w",
      defaultValue = "3",
      paramLabel = "W",
      description = "what draws beside the motors (default: ${DEFAULT-VALUE})")
  private double house;

  @Option(
      names = "--most-v",
      defaultValue = "60",
      paramLabel = "V",
      description = "what the motors' controllers bear, open circuit (default: ${DEFAULT-VALUE})")
  private double mostVolts;

  @Option(
      names = "--most-strings",
      defaultValue = "4",
      paramLabel = "M",
      description = "strings side by side, at most (default: ${DEFAULT-VALUE})")
  private int mostStrings;

  /** Options not yet given; picocli fills them in. */
  SizeOptions() {}

  /** Refuses what cannot be. */
  void check() {
    require(mass > 0.01 && mass < 100, "--mass-kg must be in (0.01, 100) kg", mass);
    require(rotors >= 1 && rotors <= 64, "--rotors must be in [1, 64]", rotors);
    require(diameter >= 0.05 && diameter <= 5, "--diameter-m must be in [0.05, 5] m", diameter);
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
    require(house >= 0 && house < 1000, "--house-w must be in [0, 1000) W", house);
  }

  private static void require(boolean holds, String rule, double value) {
    if (!holds) {
      throw new IllegalArgumentException(rule + ": " + value);
    }
  }

  double kilograms(int cells) {
    return mass + cells * (cellKilograms + frameKilograms);
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

  double merit() {
    return merit;
  }

  double drive() {
    return drive;
  }

  double mismatch() {
    return mismatch;
  }

  double house() {
    return house;
  }

  double mostVolts() {
    return mostVolts;
  }

  int mostStrings() {
    return mostStrings;
  }

  /** Lines of the cell's data sheet by key. */
  List<String[]> sheet() {
    return List.of(
        new String[] {"cell.isc_a", "" + isc},
        new String[] {"cell.voc_v", "" + voc},
        new String[] {"cell.impp_a", "" + imp},
        new String[] {"cell.vmpp_v", "" + vmp});
  }

  /** All that can be overridden, for people. */
  List<String> assumptions() {
    return List.of(
        text("a cell with its wiring weighs %.1f g (--cell-kg)", 1000 * cellKilograms),
        text("what carries a cell weighs %.1f g (--frame-kg)", 1000 * frameKilograms),
        text("figure of merit %.2f (--merit): common practice, no source", merit),
        text("motors and controllers leave %.2f (--drive): common practice, no source", drive),
        text("unequal and cracked cells take %.1f %% (--mismatch)", mismatch),
        text("%.1f W beside the motors (--house-w)", house),
        text("the bus stays under %.0f V open circuit at 25 C (--most-v)", mostVolts));
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }
}
