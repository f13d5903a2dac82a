package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;

class CraftProfileTest {

  private static final String LEAST =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      """;

  private static List<String> faults(String text) {
    return assertThrows(PropertiesException.class, () -> CraftProfile.parse("p", text)).faults();
  }

  @Test
  void theLeastProfileHasDefaultsForTheRest() {
    CraftProfile profile = CraftProfile.parse("p", LEAST);
    assertEquals(48, profile.settings().seriesCells());
    assertFalse(profile.settings().rotor().known());
    assertEquals(25, profile.settings().thermal().ambientCelsius());
    assertTrue(Double.isNaN(profile.brownoutVolts()));
  }

  @Test
  void fiveParametersServeInPlaceOfTheSheet() {
    CraftProfile profile =
        CraftProfile.parse(
            "p",
            """
            array.series_cells = 48
            array.parallel_strings = 2
            cell.photocurrent_a = 6.02
            cell.saturation_a = 8.6e-11
            cell.ideality = 1.07
            cell.series_ohm = 0.0045
            cell.shunt_ohm = 34
            """);
    assertEquals(1.07, profile.settings().cell().ideality());
  }

  @Test
  void allFaultsAreReportedTogetherWithLineRuleAndNearestKey() {
    List<String> faults =
        faults(
            LEAST.replace("48", "4.5")
                + "cell.volts = 3\n"
                + "sensor.voltage_noise_V = 0.02\n"
                + "housekeeping.power_w = lots\n"
                + "thermal.ambient_c = 400\n"
                + "rotor.hover_throttle = 0.5\n"
                + "array.parallel_strings = 2\n");
    String all = String.join("\n", faults);
    assertTrue(all.contains("p line 1: array.series_cells must be a whole number: 4.5"), all);
    assertTrue(
        all.contains(
            "p line 8: unknown key sensor.voltage_noise_V, did you mean sensor.voltage_noise_v?"),
        all);
    assertTrue(all.contains("p line 9: housekeeping.power_w must be a number"), all);
    assertTrue(all.contains("p line 10: thermal.ambient_c must be in [-60, 60]: 400"), all);
    assertTrue(all.contains("rotor.hover_power_w"), all);
    assertTrue(
        all.contains("p line 12: array.parallel_strings is given twice, first in line 2"), all);
    assertTrue(all.contains("cell.volts"), all);
    assertEquals(7, faults.size(), all);
  }

  @Test
  void missingKeysAreNamed() {
    String all = String.join("\n", faults("craft.name = Stilt\n"));
    assertTrue(all.contains("array.series_cells is missing"), all);
    assertTrue(all.contains("describe the cell by"), all);
  }

  @Test
  void bothDescriptionsOfTheCellAreOneTooMany() {
    String all = String.join("\n", faults(LEAST + "cell.ideality = 1.1\n"));
    assertTrue(all.contains("not both"), all);
  }

  @Test
  void alertMarginsMustFallFromLevelToLevel() {
    String all = String.join("\n", faults(LEAST + "alert.warning_margin_pct = 50\n"));
    assertTrue(all.contains("margins must fall"), all);
  }

  @Test
  void nanIsOutOfRange() {
    String all = String.join("\n", faults(LEAST + "housekeeping.power_w = NaN\n"));
    assertTrue(all.contains("housekeeping.power_w must be in"), all);
  }

  @Test
  void windowsLineEndsAndContinuationsKeepTheirLines() {
    String text = LEAST.replace("\n", "\r\n") + "craft.name = a \\\r\n  b\r\nwrong = 1\r\n";
    String all = String.join("\n", faults(text));
    assertTrue(all.contains("p line 9: unknown key wrong"), all);
  }
}
