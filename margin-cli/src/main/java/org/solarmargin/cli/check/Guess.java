package org.solarmargin.cli.check;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Keys that a profile leaves at their defaults, and the values that a measurement could give them.
 *
 * @param measured values after a careful measurement, by key
 * @param how how to measure them
 */
record Guess(Map<String, String> measured, String how) {

  Guess {
    measured = new LinkedHashMap<>(measured);
  }

  /** No cell has less light than the rest. */
  static final Map<String, String> EVEN_LIGHT = Map.of("light.shadow_share", "0");

  /**
   * Values after a bench test or a comparison with a meter: common practice, no source, except for
   * the cells.
   */
  static final List<Guess> ALL =
      List.of(
          new Guess(Map.of("sensor.current_gain_sd_pct", "0.5"), "comparison with a meter"),
          new Guess(Map.of("sensor.current_offset_sd_a", "0.02"), "a log with the motors off"),
          new Guess(Map.of("sensor.voltage_gain_sd_pct", "0.2"), "comparison with a meter"),
          new Guess(Map.of("cell.series_ohm_sd_pct", "4.9"), "margin fit array --into"),
          new Guess(
              Map.of("cell.voc_temp_coeff_sd_pct_per_c", "0.01"), "sweeps at many temperatures"),
          new Guess(Map.of("light.shadow_share", "0.02"), "see what can shade cells"));

  /** The keys in one human-readable line. */
  String keys() {
    return String.join(", ", measured.keySet());
  }
}
