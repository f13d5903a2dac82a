package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.sim.sky.Sky;

/** Recordings of the light that scenarios fly under. */
class RecordingTest {

  private static final Path STILT = Path.of("..", "examples", "stilt", "stilt.properties");

  @TempDir private Path folder;

  private Path write(String text) throws IOException {
    Path file = folder.resolve("sky.csv");
    Files.writeString(file, text.replace("|", "\n"));
    return file;
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '>',
      value = {
        "time_s,irradiance_w_m2|0,900|10,|>sky.csv line 3: irradiance_w_m2 must be a number: ",
        "time_s,irradiance_w_m2|0,900|10>sky.csv: not a CSV text: "
            + "Record 3 has 1 fields, but first record had 2 fields",
        "time_s,irradiance_w_m2|0,900|10,2e9>sky.csv line 3: irradiance_w_m2 must be a number: 2e9",
        "time_s,irradiance_w_m2|0,900|10,nan>sky.csv line 3: irradiance_w_m2 must be a number: nan",
        "time_s,irradiance_w_m2|5,900|# here|5,800>sky.csv line 4: time_s must rise: 5",
        "time_s,irradiance_w_m2|5,900|4.5,800>sky.csv line 3: time_s must rise: 4.5",
        "time_s,irradiance_w_m2|-1e9,9|1,9|1.00000000001,9"
            + ">sky.csv line 4: time_s must rise: 1.00000000001",
        "time_s,irradiance_w_m2|>sky.csv: has no rows under a header time_s,irradiance_w_m2",
        "time_s,ghi|0,900>sky.csv: has no column irradiance_w_m2, which a recording needs;"
            + " it has: time_s, ghi",
        "time_s,irradiance_w_m2,time_s|0,900,0>sky.csv: column time_s is there twice, as fields 1"
            + " and 3 of the header: rename or remove one",
      })
  void whatIsNoRecordingIsRefusedWithFileAndRule(String text, String rule) throws IOException {
    Path file = write(text);
    PropertiesException fault = assertThrows(PropertiesException.class, () -> Recording.read(file));
    assertEquals(rule.strip(), fault.getMessage().replace(folder + "/", "").strip());
  }

  @Test
  void anEndlessQuoteIsNoCsvText() throws IOException {
    Path file = write("time_s,irradiance_w_m2\n0,\"" + "9".repeat(20_000_000));
    PropertiesException fault = assertThrows(PropertiesException.class, () -> Recording.read(file));
    String start = file + ": not a CSV text: ";
    assertEquals(start, fault.getMessage().substring(0, start.length()));
  }

  @Test
  void aMissingFileIsSaid() {
    Path file = folder.resolve("none.csv");
    PropertiesException fault = assertThrows(PropertiesException.class, () -> Recording.read(file));
    assertEquals(file + ": no such recording (sky.file)", fault.getMessage());
  }

  @Test
  void moreThanADayAtTenHertzIsRefused() throws IOException {
    StringBuilder text = new StringBuilder("time_s,irradiance_w_m2\n");
    for (int i = 0; i <= 864_000; i++) {
      text.append(i).append(",900\n");
    }
    Path file = write(text.toString());
    PropertiesException fault = assertThrows(PropertiesException.class, () -> Recording.read(file));
    assertEquals(
        file + ": has more than 864000 rows, which is the limit: downsample it",
        fault.getMessage());
  }

  /** Its file lies beside the scenario, its time starts with the flight, night is no light. */
  @Test
  void aScenarioFliesUnderItsRecording() throws IOException {
    write("time_s,irradiance_w_m2\n100,800\n110,400\n120,-3\n");
    Path file = folder.resolve("flight.properties");
    Files.writeString(
        file,
        """
        plan = 10:30
        sky.kind = recording
        sky.file = sky.csv
        """);
    CraftProfile craft = CraftProfile.read(STILT);
    Sky sky = new SetupMaker(Scenario.read(file, craft), craft).asStated(1).sky();
    assertEquals(0.8, sky.suns(0), 1e-12);
    assertEquals(0.6, sky.suns(5), 1e-12);
    assertEquals(0, sky.suns(20), 1e-12);
    assertEquals(0, sky.suns(1000), 1e-12);
  }
}
