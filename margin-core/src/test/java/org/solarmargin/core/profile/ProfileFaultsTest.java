package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A fault of a single key is reported, and no other fault is. */
class ProfileFaultsTest {

  private static final String COUNTS =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      """;
  private static final String SHEET =
      """
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      """;
  private static final String MODEL =
      """
      cell.photocurrent_a = 6.02
      cell.saturation_a = 8.6e-11
      cell.ideality = 1.07
      cell.series_ohm = 0.0045
      cell.shunt_ohm = 34
      """;
  private static final String HOVER =
      """
      rotor.hover_throttle = 0.5
      rotor.hover_power_w = 80
      rotor.hover_bus_v = 29
      """;

  private static String faults(String text) {
    return String.join(
        "\n",
        assertThrows(PropertiesException.class, () -> CraftProfile.parse("p", text)).faults());
  }

  private static String broken(String text, String key) {
    String wrong = text.replaceAll("(?m)^" + key.replace(".", "\\.") + " = .*$", key + " = -7e9");
    return faults(wrong);
  }

  @ParameterizedTest
  @ValueSource(strings = {"cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v"})
  void aNumberOfTheSheet(String key) {
    String message = broken(COUNTS + SHEET, key);
    assertTrue(message.contains(key + " must be in ["), message);
    assertEquals(1, message.lines().count(), message);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "cell.photocurrent_a",
        "cell.saturation_a",
        "cell.ideality",
        "cell.series_ohm",
        "cell.shunt_ohm"
      })
  void aNumberOfTheModel(String key) {
    String message = broken(COUNTS + MODEL, key);
    assertTrue(message.contains(key + " must be in ["), message);
    assertEquals(1, message.lines().count(), message);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "alert.warning_margin_pct", "alert.caution_time_s", "alert.advisory_on_delay_s",
        "alert.warning_off_delay_s", "alert.caution_hysteresis_pct", "alert.peak_memory_s",
        "sensor.voltage_filter_s", "sensor.current_period_s", "rotor.command_lag_s",
        "thermal.time_constant_s", "cell.isc_temp_coeff_pct_per_c", "light.shadow_share"
      })
  void anOptionalNumber(String key) {
    String message = faults(COUNTS + SHEET + key + " = 7e9\n");
    assertTrue(message.contains(key + " must be in ["), message);
    assertEquals(1, message.lines().count(), message);
  }

  @Test
  void pointsThroughWhichNoCellPasses() {
    String message = faults(COUNTS + SHEET.replace("5.70", "6.01").replace("0.574", "0.682"));
    assertTrue(message.contains("no single-diode cell passes through these points"), message);
  }

  @Test
  void aHoverPowerBelowHousekeeping() {
    String message = faults(COUNTS + SHEET + HOVER + "housekeeping.power_w = 80\n");
    assertEquals("p line 8: rotor.hover_power_w must exceed housekeeping.power_w: 80", message);
  }

  /** Momentum theory: 4 discs of 0.5588 m need at least 40.1 W to lift 1.6 kg. */
  @Test
  void aHoverPowerUnderTheIdealOne() {
    String rotors = "craft.mass_kg = 1.6\nrotor.diameter_m = 0.5588\nhousekeeping.power_w = 3.5\n";
    String low = HOVER.replace("= 80", "= 40");
    String message = faults(COUNTS + SHEET + low + rotors);
    assertTrue(message.contains("rotor.hover_power_w leaves 36.5 W for the rotors"), message);
    assertTrue(message.contains("takes at least 40.1 W"), message);
    assertEquals(1, message.lines().count(), message);
    CraftProfile.parse("p", COUNTS + SHEET + HOVER + rotors);
  }

  @Test
  void aMassInGrams() {
    String message = faults(COUNTS + SHEET + HOVER + "craft.mass_kg = 1600\n");
    assertTrue(message.contains("give the mass in kilograms: 1600"), message);
    String guessed = faults(COUNTS + SHEET + "craft.mass_kg = 1600\n");
    assertTrue(guessed.contains("give the mass in kilograms: 1600"), guessed);
    String stated =
        faults(COUNTS + SHEET + HOVER + "craft.mass_kg = 1600\nrotor.diameter_m = 0.5\n");
    assertTrue(stated.contains("check craft.mass_kg (kg)"), stated);
  }

  @Test
  void aHoverPowerBeyondTheArray() {
    String message = faults(COUNTS + SHEET + HOVER.replace("= 80", "= 800"));
    assertTrue(
        message.contains("rotor.hover_power_w of 800 W is more than the array gives"), message);
  }

  @Test
  void theHoverPointIsUsedAsStated() {
    var rotor = CraftProfile.parse("p", COUNTS + SHEET + HOVER).settings().rotor();
    assertTrue(rotor.known());
    assertEquals(80, rotor.hoverWatts());
  }
}
