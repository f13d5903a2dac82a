package org.solarmargin.cli.check;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.solarmargin.cli.file.EstimateMark;
import org.solarmargin.cli.init.ProfileCatalogue;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Values that a profile states as estimates or from a data sheet, or leaves at their defaults.
 *
 * @param kind where the values come from, in one word or two
 * @param values values in use by key; an empty value if there is none
 * @param how how to measure them
 */
record Unmeasured(String kind, Map<String, String> values, String how) {

  private static final List<String> SHEET =
      List.of("cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v");

  /**
   * Keys with a default, by the way to measure them. Those of the interval are in {@link Guess}.
   */
  private static final Map<List<String>, String> DEFAULTS = new LinkedHashMap<>();

  static {
    DEFAULTS.put(
        List.of("thermal.ambient_c", "thermal.sun_rise_c", "thermal.time_constant_s"),
        "a thermometer on the back of a cell in the first tethered minutes; margin outlook --log"
            + " tells from a flight which rise would fit");
    DEFAULTS.put(
        List.of("housekeeping.power_w"), "bus voltage times current at rest, with the motors off");
    DEFAULTS.put(
        List.of("cell.isc_temp_coeff_pct_per_c", "cell.voc_temp_coeff_pct_per_c"),
        "the data sheet, or sweeps at several temperatures: margin fit array FOLDER --into PROFILE");
    DEFAULTS.put(
        List.of("sensor.voltage_noise_v", "sensor.current_noise_a"),
        "the standard deviation of the readings in a log at rest");
    DEFAULTS.put(List.of("rotor.count"), "count them");
  }

  private static final Map<String, String> ABSENT =
      Map.of(
          "bus.brownout_v",
          "lower the voltage of a bench supply until the electronics stop; without it, a brownout"
              + " is not recognised in logs");

  /**
   * Finds them.
   *
   * @param profile the profile
   * @param stated its keys
   * @param lines its text
   */
  static List<Unmeasured> of(CraftProfile profile, Set<String> stated, List<String> lines) {
    List<Unmeasured> all = new ArrayList<>();
    Map<String, String> marked = EstimateMark.marked(lines);
    if (!marked.isEmpty()) {
      all.add(
          new Unmeasured(
              "estimate",
              marked,
              "margin fit rotor STAND --craft PROFILE --into PROFILE; margin check PROFILE LOG"
                  + " compares the hover power with a flight"));
    }
    if (stated.containsAll(SHEET)) {
      all.add(
          new Unmeasured(
              "data sheet",
              unvalued(SHEET),
              "margin fit array SWEEP --into PROFILE, on the bench"));
    }
    DEFAULTS.forEach(
        (keys, how) -> {
          List<String> open = keys.stream().filter(key -> !stated.contains(key)).toList();
          if (!open.isEmpty()) {
            Map<String, String> values = unvalued(open);
            values.replaceAll((key, none) -> ProfileCatalogue.usual(key));
            all.add(new Unmeasured("default", values, how));
          }
        });
    if (!profile.settings().timing().known()) {
      all.add(
          new Unmeasured(
              "not stated",
              unvalued(List.of("the logger's timing (sensor.*_filter_s and others)")),
              "identified from each log; margin fit logger LOG --into PROFILE measures it"));
    }
    ABSENT.forEach(
        (key, how) -> {
          if (!stated.contains(key)) {
            all.add(new Unmeasured("not stated", unvalued(List.of(key)), how));
          }
        });
    return all;
  }

  private static Map<String, String> unvalued(List<String> keys) {
    Map<String, String> values = new LinkedHashMap<>();
    keys.forEach(key -> values.put(key, ""));
    return values;
  }

  /** Keys and values in one human-readable line. */
  String words() {
    return values.entrySet().stream()
        .map(e -> e.getKey() + (e.getValue().isEmpty() ? "" : " = " + e.getValue()))
        .collect(Collectors.joining(", "));
  }
}
