package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The columns and messages that feed the estimator, as stated in the profile. */
class LogSourcesTest {

  private static final String CRAFT =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      cell.isc_a = 6
      cell.voc_v = 0.68
      cell.impp_a = 5.6
      cell.vmpp_v = 0.57
      """;

  @TempDir private Path folder;

  private CraftProfile profile(String lines) throws IOException {
    return CraftProfile.read(Files.writeString(folder.resolve("craft.properties"), CRAFT + lines));
  }

  private String fault(String lines) {
    return assertThrows(PropertiesException.class, () -> profile(lines)).getMessage();
  }

  @Test
  void aProfileWithoutTheKeysHasTheDefaults() throws IOException {
    assertEquals(LogSources.DEFAULT, profile("").sources());
  }

  @Test
  void statedValuesAreUsed() throws IOException {
    LogSources sources =
        profile(
                "log.bus_v = Voltage:mV\nlink.bus_message = SYS_STATUS\nlink.throttle_message ="
                    + " VFR_HUD\nlink.first_motor_output = 5\nlink.system_id = 7\n")
            .sources();
    assertEquals(Map.of("bus_v", "Voltage:mV"), sources.columns());
    assertEquals(LogSources.Bus.SYS_STATUS, sources.bus());
    assertEquals(LogSources.Throttle.VFR_HUD, sources.throttle());
    assertEquals(5, sources.firstOutput());
    assertEquals(7, sources.system());
    assertEquals(0, sources.component());
  }

  @Test
  void invalidValuesAreReportedWithTheirLine() {
    String choice = fault("link.bus_message = BATTERY\n");
    assertTrue(choice.contains("craft.properties line 7"), choice);
    assertTrue(choice.contains("must be one of BATTERY_STATUS, SYS_STATUS"), choice);
    String empty = fault("log.bus_v =\n");
    assertTrue(empty.contains("log.bus_v must name the column"), empty);
    String output = fault("link.first_motor_output = 17\n");
    assertTrue(output.contains("link.first_motor_output must be in [1, 16]"), output);
    String fraction = fault("link.system_id = 1.5\n");
    assertTrue(fraction.contains("link.system_id"), fraction);
  }

  @Test
  void aMissingProfileIsAnIoException() {
    assertThrows(
        NoSuchFileException.class, () -> CraftProfile.read(folder.resolve("none.properties")));
  }
}
