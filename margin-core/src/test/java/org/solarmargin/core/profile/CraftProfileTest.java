package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.cell.CellParameters;

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
  void theMinimalProfileHasDefaultsForTheRest() {
    CraftProfile profile = CraftProfile.parse("p", LEAST);
    assertEquals(48, profile.settings().seriesCells());
    assertFalse(profile.settings().rotor().known());
    assertEquals(25, profile.settings().thermal().ambientCelsius());
    assertTrue(Double.isNaN(profile.brownoutVolts()));
  }

  @Test
  void fiveParametersReplaceTheDataSheet() {
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
    assertEquals(-0.0033, profile.settings().cell().vocTempCoeffPerKelvin(), 1e-12);
    assertEquals(0.0005, profile.settings().cellSpread().vocCoeffSdPerKelvin(), 1e-12);
  }

  @Test
  void theCoefficientAppliesToBothDescriptionsOfTheCell() {
    String parameters =
        """
        array.series_cells = 48
        array.parallel_strings = 1
        cell.photocurrent_a = 6.02
        cell.saturation_a = 1.9e-9
        cell.ideality = 1.2
        cell.series_ohm = 0.0045
        cell.shunt_ohm = 34
        """;
    String coeff = "cell.voc_temp_coeff_pct_per_c = -0.27\ncell.bench_c = 41\n";
    for (String description : List.of(LEAST, parameters)) {
      CraftProfile profile = CraftProfile.parse("p", description + coeff);
      CellParameters cell = profile.settings().cell();
      CellCurve curve = new CellCurve(cell);
      double open = curve.openCircuitVolts();
      curve.set(1, 25.1);
      assertEquals(-0.0027, (curve.openCircuitVolts() / open - 1) / 0.1, 5e-6, description);
      assertEquals(41, cell.benchCelsius());
      assertEquals(0.0002, profile.settings().cellSpread().vocCoeffSdPerKelvin(), 1e-12);
    }
    String stated = coeff + "cell.voc_temp_coeff_sd_pct_per_c = 0.011\n";
    assertEquals(
        0.00011,
        CraftProfile.parse("p", LEAST + stated).settings().cellSpread().vocCoeffSdPerKelvin(),
        1e-12);
    String all =
        String.join("\n", faults(LEAST + stated.replace("-0.27", "0.27").replace("41", "200")));
    assertTrue(all.contains("cell.bench_c must be in [-50, 130]: 200"), all);
    assertTrue(all.contains("cell.voc_temp_coeff_pct_per_c must be in"), all);
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
  void bothDescriptionsOfTheCellAreRefused() {
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
