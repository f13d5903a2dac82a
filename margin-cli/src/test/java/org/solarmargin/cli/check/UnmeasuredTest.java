package org.solarmargin.cli.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/** Which values of a profile check lists as not measured. */
class UnmeasuredTest {

  @TempDir private Path folder;

  private Path initial() {
    Path profile = folder.resolve("new.properties");
    Cli run =
        Cli.run(
            (Object[])
                ("init "
                        + profile
                        + " --series 60 --isc 6.2 --voc 0.73 --imp 5.9 --vmp 0.62 --mass-kg 1.6"
                        + " --diameter-m 0.5588")
                    .split(" "));
    assertEquals(0, run.status, run.err);
    return profile;
  }

  private static String checked(Path profile) {
    Cli run = Cli.run("check", profile);
    assertEquals(0, run.status, run.err);
    return run.out.replaceAll("\\s+", " ");
  }

  private static void has(String text, String part) {
    assertTrue(text.contains(part), part + " in: " + text);
  }

  @Test
  void aFirstProfileListsEstimatesDataSheetAndDefaults() {
    String text = checked(initial());
    has(text, "estimate: rotor.hover_throttle = 0.5, rotor.hover_power_w = 82.");
    has(text, "margin fit rotor STAND --craft PROFILE --into PROFILE");
    has(text, "data sheet: cell.isc_a, cell.voc_v, cell.impp_a, cell.vmpp_v margin fit array");
    has(
        text,
        "default: thermal.ambient_c = 25, thermal.sun_rise_c = 25, thermal.time_constant_s = 15");
    has(text, "default: housekeeping.power_w = 3 bus voltage times current at rest");
    has(text, "default: sensor.voltage_noise_v = 0.02, sensor.current_noise_a = 0.05");
    has(text, "margin fit logger LOG --into PROFILE");
    has(text, "not stated: bus.brownout_v");
    assertFalse(text.contains("rotor.count"), "it is stated: " + text);
  }

  /** A value that was changed by hand is measured, even if its mark was left above it. */
  @Test
  void whatIsStatedLaterIsNoLongerListed() throws IOException {
    Path profile = initial();
    Files.writeString(
        profile,
        Files.readString(profile)
                .replaceFirst("(?m)^rotor.hover_power_w = .*$", "rotor.hover_power_w = 88")
            + "thermal.sun_rise_c = 30\nbus.brownout_v = 9\nsensor.voltage_filter_s = 0\n");
    String text = checked(profile);
    has(text, "estimate: rotor.hover_throttle = 0.5, rotor.hover_bus_v");
    has(text, "default: thermal.ambient_c = 25, thermal.time_constant_s = 15 ");
    assertFalse(text.contains("brownout"), text);
    assertFalse(text.contains("fit logger"), text);
  }

  @Test
  void aProfileThatIsMeasuredListsNothing() throws IOException {
    List<String> cell =
        List.of(
            "cell.photocurrent_a = 6.03",
            "cell.saturation_a = 1.5e-10",
            "cell.ideality = 1.1",
            "cell.series_ohm = 0.004",
            "cell.shunt_ohm = 30",
            "sensor.voltage_filter_s = 0");
    Path profile =
        Files.writeString(
            folder.resolve("measured.properties"),
            Files.readString(Cli.STILT).replaceAll("(?m)^cell.(isc_a|voc_v|impp_a|vmpp_v) .*$", "")
                + String.join("\n", cell));
    has(checked(profile), "The profile states every value that can be measured.");
  }
}
