package org.solarmargin.cli.init;

import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.core.profile.PropertiesException;

/** Faults of a profile that was made from options, in terms of these options. */
public final class OptionFaults {

  private static final Map<String, String> OPTIONS = new LinkedHashMap<>();

  static {
    OPTIONS.put("craft.name", "--name");
    OPTIONS.put("craft.mass_kg", "--mass-kg");
    OPTIONS.put("array.series_cells", "--series");
    OPTIONS.put("array.parallel_strings", "--parallel");
    OPTIONS.put("cell.isc_a", "--isc");
    OPTIONS.put("cell.voc_v", "--voc");
    OPTIONS.put("cell.impp_a", "--imp");
    OPTIONS.put("cell.vmpp_v", "--vmp");
    OPTIONS.put("cell.isc_temp_coeff_pct_per_c", "--isc-coeff");
    OPTIONS.put("cell.voc_temp_coeff_pct_per_c", "--voc-coeff");
    OPTIONS.put("rotor.count", "--rotors");
    OPTIONS.put("rotor.diameter_m", "--diameter-m");
  }

  /** Name of the profile and perhaps a line, of which the user knows nothing. */
  private static final Pattern PLACE = Pattern.compile("^.*?( line [0-9]+)?: ");

  private static final Pattern TOO_HIGH =
      Pattern.compile("^(--voc|--vmp|--mass-kg) must be in \\[\\S+, (\\S+)\\]: (\\S+)$");

  private OptionFaults() {}

  /**
   * Translates the faults.
   *
   * @param faults of a profile whose name contains no colon
   * @param series cells in series; empty if not given
   * @return one line for each fault
   */
  public static String words(PropertiesException faults, String series) {
    return faults.faults().stream()
        .map(fault -> hinted(options(fault), series))
        .collect(Collectors.joining("\n"));
  }

  private static String options(String fault) {
    String text = PLACE.matcher(fault).replaceFirst("");
    for (Map.Entry<String, String> option : OPTIONS.entrySet()) {
      text = text.replace(option.getKey(), option.getValue());
    }
    return text;
  }

  /** Adds the unit, if the value suggests that it is in another one. */
  private static String hinted(String fault, String series) {
    Matcher high = TOO_HIGH.matcher(fault);
    if (!high.matches() || number(high.group(3)) <= number(high.group(2))) {
      return fault;
    }
    String value = high.group(3);
    if (high.group(1).equals("--mass-kg")) {
      return fault + ": give the mass in kilograms, " + grams(number(value));
    }
    double cells = number(series);
    String hint = fault + ": give the voltage of one cell, not that of a module or string";
    return cells > 1
        ? hint
            + String.format(
                Locale.ROOT, " (%s V / %s cells = %.4g V)", value, series, number(value) / cells)
        : hint;
  }

  /** What a number of grams is in kilograms. */
  static String grams(double value) {
    BigDecimal grams = BigDecimal.valueOf(value);
    return plain(grams) + " g are " + plain(grams.movePointLeft(3)) + " kg";
  }

  /** A number without exponent or trailing zeros. */
  static String plain(BigDecimal value) {
    return value.stripTrailingZeros().toPlainString();
  }

  private static double number(String text) {
    try {
      return PlainNumber.parse(text);
    } catch (NumberFormatException e) {
      return Double.NaN;
    }
  }
}
