package org.solarmargin.cli.log;

import java.util.Locale;

/** A quantity of the flight log, with its permitted units. */
public enum Column {
  /** Time. */
  TIME("time_s", true, "s, ms, us, ns"),
  /** Bus voltage. */
  VOLTS("bus_v", true, "V, mV, cV"),
  /** Bus current, positive out of the array. */
  AMPS("bus_a", true, "A, mA, cA"),
  /** Mean motor command. */
  THROTTLE("throttle", true, "1, pct, permille, us"),
  /** Measured cell temperature. */
  CELL("cell_c", false, "C, K, cC"),
  /** Height. */
  HEIGHT("height_m", false, "m, cm, mm"),
  /** The pilot's mark. */
  EVENT("event", false, "no unit");

  private static final double ZERO_CELSIUS_KELVIN = 273.15;

  private final String word;
  private final boolean required;
  private final String units;

  Column(String word, boolean required, String units) {
    this.word = word;
    this.required = required;
    this.units = units;
  }

  /**
   * The column's name in the log format.
   *
   * @return the name in the header
   */
  public String word() {
    return word;
  }

  boolean required() {
    return required;
  }

  String unitList() {
    return units;
  }

  /**
   * Factor from a unit to that of the log format.
   *
   * @param unit in any usual spelling
   * @return the factor; NaN if the unit is not permitted
   */
  public double factor(String unit) {
    return switch (word + " " + plain(unit)) {
      case "time_s s", "bus_v v", "bus_a a", "throttle 1", "cell_c c", "cell_c k", "height_m m" ->
          1;
      case "bus_v cv", "bus_a ca", "throttle pct", "cell_c cc", "height_m cm" -> 1e-2;
      case "time_s ms", "bus_v mv", "bus_a ma", "throttle us", "throttle permille", "height_m mm" ->
          1e-3;
      case "time_s us" -> 1e-6;
      case "time_s ns" -> 1e-9;
      default -> Double.NaN;
    };
  }

  /** Normalises the usual spellings of a unit. */
  private static String plain(String unit) {
    String lower = unit.strip().toLowerCase(Locale.ROOT);
    return switch (lower) {
      case "sec", "seconds" -> "s";
      case "msec", "milliseconds" -> "ms";
      case "usec", "\u00b5s", "\u03bcs", "microseconds" -> "us";
      case "volt", "volts" -> "v";
      case "amp", "amps", "ampere", "amperes" -> "a";
      case "%", "percent" -> "pct";
      case "\u2030" -> "permille";
      case "\u00b0c", "degc", "deg c" -> "c";
      default -> lower;
    };
  }

  /** Offset added after scaling: servo pulses of 1000 to 2000 us are 0 to 1; kelvin to Celsius. */
  double offset(String unit) {
    String lower = plain(unit);
    if (this == THROTTLE && lower.equals("us")) {
      return -1;
    }
    return this == CELL && lower.equals("k") ? -ZERO_CELSIUS_KELVIN : 0;
  }
}
