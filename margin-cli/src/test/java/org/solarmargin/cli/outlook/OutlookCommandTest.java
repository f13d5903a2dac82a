package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;

class OutlookCommandTest {

  @TempDir private Path folder;

  private static Cli outlook(Object... more) {
    List<Object> words =
        new ArrayList<>(
            List.of("outlook", "--craft", Cli.STILT, "--at", "53.7,7.7", "--date", "2026-06-21"));
    words.addAll(List.of(more));
    return Cli.run(words.toArray());
  }

  @Test
  void aDayReportsWindowBestHourAndBasis() throws IOException {
    Path csv = folder.resolve("day.csv");
    Cli run = outlook("--zone", "Europe/Berlin", "--air-c", "12,19", "--what-if", "--csv", csv);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("no WARNING (7.50 %)"), run.out);
    assertTrue(run.out.contains("Best at 13:"), run.out);
    assertTrue(run.out.contains("Clouds may then block"), run.out);
    assertTrue(run.out.contains("one cracked cell"), run.out);
    assertTrue(run.out.contains("upper limit"), run.out);
    assertTrue(run.out.lines().allMatch(line -> line.length() <= 100), run.out);
    assertTrue(Files.readAllLines(csv).size() > 150);
  }

  @Test
  void thePageAgreesWithTheText() throws IOException {
    Path page = folder.resolve("day.html");
    Cli run = outlook("--what-if", "--report", page, "--ascii");
    assertEquals(0, run.status, run.err);
    String text = Files.readString(page);
    for (String words :
        List.of(
            "Best at 11:", "one more string", "following the sun", "Reynolds number", "a gram")) {
      assertTrue(run.out.contains(words), words + " not in " + run.out);
      assertTrue(text.contains(words), words + " not on the page");
    }
    assertTrue(run.out.contains(" alert  |W"), run.out);
    assertTrue(run.out.chars().allMatch(c -> c < 0x100), "plain ASCII was asked for");
    String window = run.out.lines().filter(l -> l.startsWith("no WARNING")).findFirst().orElse("");
    assertTrue(text.contains(window.substring(25)), window);
  }

  @Test
  void polarNightIsReportedOnThePage() throws IOException {
    Path page = folder.resolve("night.html");
    Cli run =
        Cli.run(
            "outlook",
            "--craft",
            Cli.STILT,
            "--at=89,0",
            "--date=2026-12-21",
            "--what-if",
            "--report",
            page);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("polar night"), run.out);
    assertTrue(Files.readString(page).contains("polar night"));
  }

  /** The changes are those of the day given, also after a year. */
  @Test
  void changesAreReportedWithTheYear() {
    Cli run = outlook("--season", "--what-if");
    assertEquals(0, run.status, run.err);
    int year = run.out.indexOf("There is an hour without WARNING on days from 2026-0");
    assertTrue(year >= 0 && run.out.indexOf("what if, on 2026-") > year, run.out);
  }

  @Test
  void aYearNamesItsFirstAndLastDay() throws IOException {
    Path csv = folder.resolve("year.csv");
    Cli run = outlook("--season", "--csv", csv);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("There is an hour without WARNING on days from 2026-0"), run.out);
    assertEquals(366, Files.readAllLines(csv).size());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "--at=91,0", "--at=1", "--date=2026-02-30", "--zone=Nowhere", "--air-c=20,10",
        "--haze=100", "--tilt=91", "--heading=north", "--step=0", "--wind=-1"
      })
  void invalidValuesAreWrongUsage(String option) {
    Cli run =
        Cli.run(
            "outlook",
            "--craft",
            Cli.STILT,
            option.startsWith("--at") ? option : "--at=50,10",
            option.startsWith("--date") ? option : "--date=2026-06-21",
            option.startsWith("--at") || option.startsWith("--date") ? "--season" : option);
    assertEquals(2, run.status, run.out + run.err);
  }

  private Path craft(String name, String text) throws IOException {
    return Files.writeString(folder.resolve(name), text);
  }

  /** South of the equator the sun stands in the north; what is not known is not varied. */
  @Test
  void changesAreThoseThatTheCraftAndThePlaceAllow() throws IOException {
    String stilt = Files.readString(Cli.STILT);
    Path bare =
        craft("bare.properties", stilt.replaceAll("(?m)^(craft.mass_kg|rotor.diameter_m).*$", ""));
    Cli run =
        Cli.run(
            "outlook",
            "--craft",
            bare,
            "--at",
            "-33.9,18.4",
            "--date",
            "2026-12-21",
            "--tilt",
            15,
            "--heading",
            "sun",
            "--what-if");
    assertEquals(0, run.status, run.err);
    assertFalse(run.out.contains("100 g lighter"), run.out);
    assertFalse(run.out.contains("propellers 10 % larger"), run.out);
    assertFalse(run.out.contains("following the sun, "), run.out);
    assertTrue(run.out.contains("one more string"), run.out);
  }

  /** A craft that hovers on all that its array gives in full sun has no day to fly on. */
  @Test
  void aYearWithoutAnHourIsSaid() throws IOException {
    String stilt = Files.readString(Cli.STILT);
    Path weak =
        craft(
            "weak.properties",
            stilt.replace("rotor.hover_power_w = 83", "rotor.hover_power_w = 156"));
    Cli never =
        Cli.run("outlook", "--craft", weak, "--at", "0,0", "--date", "2026-06-21", "--season");
    assertEquals(0, never.status, never.err);
    assertTrue(never.out.contains("No day has an hour without WARNING."), never.out);
  }

  @Test
  void theHelpSaysWhenTheDateIsRequired() {
    String help = Cli.run("outlook", "--help").out.replaceAll("\\s+", " ");
    assertTrue(help.contains("--date=YYYY-MM-DD the day; required without --log"), help);
  }
}
