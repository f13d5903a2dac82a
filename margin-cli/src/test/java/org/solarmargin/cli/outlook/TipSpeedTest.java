package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.profile.CraftProfile;

class TipSpeedTest {

  private static CraftProfile craft(double kilograms, double diameter) throws IOException {
    return CraftProfile.parse(
        "test",
        Files.readString(Cli.STILT)
            .replaceAll(
                "craft.mass_kg = .*", String.format(Locale.ROOT, "craft.mass_kg = %.6f", kilograms))
            .replaceAll("rotor.diameter_m = .*", "rotor.diameter_m = " + diameter)
            .replaceAll("rotor.hover_power_w = .*", "rotor.hover_power_w = 150")
            .replaceAll("rotor.hover_bus_v = .*", "rotor.hover_bus_v = 27"));
  }

  /**
   * UIUC's static tables (Brandt and Selig, AIAA 2011-1255; file apcsf_11x4.7_static_pg0526):
   * thrust at a speed of a propeller of 0.2794 m. One coefficient represents the table's 0.099 to
   * 0.126, hence 7 %.
   */
  @ParameterizedTest
  @CsvSource({"2018, 0.8487", "2875, 1.8151", "3994, 3.7313", "4853, 5.8166", "4290, 4.3927"})
  void tipSpeedsAgreeWithTheTables(double rpm, double newtons) throws IOException {
    CraftProfile craft = craft(4 * newtons / 9.80665, 0.2794);
    double tips = Math.PI * 0.2794 * rpm / 60;
    assertEquals(tips, TipSpeed.of(craft, 1, 1.225).metresPerSecond(), 0.07 * tips);
  }

  /**
   * At constant thrust, the speed is inversely proportional to the diameter, and speed times chord
   * is constant.
   */
  @Test
  void largerPropellersTurnSlowerAtTheSameReynoldsNumber() throws IOException {
    TipSpeed now = TipSpeed.of(craft(1.6, 0.5588), 1, 1.1);
    TipSpeed larger = TipSpeed.of(craft(1.6, 0.5588), 1.25, 1.1);
    assertEquals(now.metresPerSecond() / 1.25, larger.metresPerSecond(), 1e-9);
    assertEquals(now.reynolds(), larger.reynolds(), 1e-6);
    // 1.1 kg/m3, three quarters of the tips' speed, 8 % of the diameter, 1.8e-5 Pa s
    assertEquals(1.1 * 0.75 * now.metresPerSecond() * 0.08 * 0.5588 / 1.8e-5, now.reynolds(), 1e-6);
  }

  @Test
  void exceededLimitsAreReported() {
    assertTrue(new TipSpeed(171, 2e5).words().contains("above 170 m/s"));
    assertTrue(new TipSpeed(50, 9e4).words().contains("below 100 000"));
    assertTrue(new TipSpeed(50, 2e5).words().contains("within"));
  }
}
