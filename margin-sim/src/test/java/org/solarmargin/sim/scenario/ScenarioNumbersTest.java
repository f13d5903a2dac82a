package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.core.profile.StrictProperties;

/** Numbers in scenarios and recordings must be plain. */
class ScenarioNumbersTest {

  private static final Path STILT = Path.of("..", "examples", "stilt", "stilt.properties");

  @TempDir private Path folder;

  @ParameterizedTest
  @ValueSource(strings = {"10d:60", "10:60f", "0x1p3:60", "10:0x1p3"})
  void aPlanOfOtherNumbersIsRefused(String leg) throws IOException {
    CraftProfile craft = CraftProfile.read(STILT);
    PropertiesException fault =
        assertThrows(
            PropertiesException.class,
            () -> Scenario.of(new StrictProperties("s", "plan = " + leg), craft));
    assertTrue(fault.getMessage().contains("not '" + leg + "'"), fault.getMessage());
  }

  @ParameterizedTest
  @ValueSource(strings = {"10,900d", "10f,900", "10,0x1p9"})
  void aRecordingOfOtherNumbersIsRefused(String line) throws IOException {
    Path file = folder.resolve("sky.csv");
    Files.writeString(file, "time_s,irradiance_w_m2\n0,900\n" + line + "\n");
    PropertiesException fault = assertThrows(PropertiesException.class, () -> Recording.read(file));
    assertTrue(fault.getMessage().contains("sky.csv line 3: "), fault.getMessage());
    assertTrue(fault.getMessage().contains(" must be a number: "), fault.getMessage());
  }

  @Test
  void plainOnesAreRead() throws IOException {
    Path file = folder.resolve("sky.csv");
    Files.writeString(file, "time_s,irradiance_w_m2\n0,900\n1e1,.9e3\n");
    assertTrue(Math.abs(Recording.read(file).suns(10) - 0.9) < 1e-12);
  }
}
