package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/**
 * Compares simulated flights of known light and mass with the forecast. Cells with less current
 * represent both haze and dirt.
 */
class FlownOutlookTest {

  private static final String SKY =
      """
      plan = 3:40
      sky.kind = day
      sky.start = DATET11:30:00Z
      sky.latitude = 53.7
      sky.longitude = 7.7
      air.temp_c = 15
      air.wind_m_s = 0
      air.turbulence_w20_m_s = 0.5
      array.all_photocurrent = CELLS
      craft.mass_factor = MASS
      """;

  @TempDir private static Path folder;

  private static Path craft;

  /** Stilt with stated logger timing, so that no search is needed. */
  @BeforeAll
  static void writeCraft() throws IOException {
    craft =
        Files.writeString(
            folder.resolve("craft.properties"),
            Files.readString(Cli.STILT) + "sensor.voltage_filter_s = 0\n");
  }

  private static Path flight(String name, String date, double light, double mass)
      throws IOException {
    Path scenario =
        Files.writeString(
            folder.resolve("flown.properties"),
            SKY.replace("DATE", date).replace("CELLS", "" + light).replace("MASS", "" + mass));
    Path log = folder.resolve(name + ".csv");
    Path truth = Files.createDirectories(folder.resolve("truth")).resolve(name + ".csv");
    Cli run = Cli.run("simulate", scenario, "--craft", craft, "--log", log, "--truth", truth);
    assertEquals(0, run.status, run.err);
    return log;
  }

  private static Cli outlook(Path log, Object... more) {
    List<Object> words =
        new ArrayList<>(
            List.of("outlook", "--craft", craft, "--at=53.7,7.7", "--air-c=15", "--log", log));
    words.addAll(List.of(more));
    return Cli.run(words.toArray());
  }

  private static double[] row(String out, String name) {
    Matcher row =
        Pattern.compile(
                "(?m)^"
                    + name
                    + " +([0-9.]+) +([0-9.]+) +([-+][0-9]+) . +([0-9]+) . +([-+][0-9]+)$")
            .matcher(out);
    assertTrue(row.find(), name + " in " + out);
    double[] values = new double[5];
    for (int i = 0; i < 5; i++) {
      values[i] = Double.parseDouble(row.group(i + 1));
    }
    return values;
  }

  @Test
  void aFlightAsForecastHasNothingOff() throws IOException {
    Cli run = outlook(flight("as-forecast", "2026-06-21", 1, 1), "--date=2026-06-21");
    assertEquals(0, run.status, run.err);
    assertEquals(0, row(run.out, "light, W/m2")[2], 3, run.out);
    assertEquals(0, row(run.out, "hover, W")[2], 3, run.out);
    assertTrue(run.out.contains("No assumption was off"), run.out);
    assertTrue(run.out.contains("Stilt on 2026-06-21"), run.out);
  }

  @Test
  void hazeIsReportedWithItsAmount() throws IOException {
    Path log = flight("haze", "2026-06-21", 0.75, 1);
    Path page = folder.resolve("haze.html");
    Cli run = outlook(log, "--report", page);
    assertEquals(0, run.status, run.err);
    Matcher off =
        Pattern.compile("OFF: light ([0-9]+) % below .* --haze ([0-9]+) would fit this flight")
            .matcher(run.out.replaceAll("\\s+", " "));
    assertTrue(off.find(), run.out);
    assertEquals(25, Integer.parseInt(off.group(1)), 3);
    assertFalse(run.out.contains("OFF: hover"), run.out);
    assertTrue(Files.readString(page).contains("OFF: light"));
    Cli hazy = outlook(log, "--haze", off.group(2));
    assertTrue(hazy.out.contains("No assumption was off"), hazy.out);
  }

  @Test
  void aHeavierCraftIsReported() throws IOException {
    Cli run = outlook(flight("heavy", "2026-06-21", 1, 1.12));
    assertEquals(0, run.status, run.err);
    // the motors' power is proportional to the mass to the 3/2
    assertEquals(100 * (Math.pow(1.12, 1.5) - 1), row(run.out, "hover, W")[2], 3, run.out);
    assertTrue(run.out.contains("OFF: hover"), run.out);
    assertFalse(run.out.contains("OFF: light"), run.out);
  }

  @Test
  void aFlightWithoutItsTimeOrAtNightIsRefused() throws IOException {
    Path log = flight("timeless", "2026-06-21", 1, 1);
    List<String> lines = Files.readAllLines(log);
    assertEquals("# start: 2026-06-21T11:30:00Z", lines.get(0));
    Files.write(log, lines.subList(1, lines.size()));
    Cli none = outlook(log);
    assertEquals(2, none.status, none.out);
    assertTrue(none.err.contains("give --start"), none.err);
    assertEquals(0, outlook(log, "--start=2026-06-21T13:30+02:00").status);
    Cli night = outlook(log, "--start=2026-06-21T23:30Z");
    assertEquals(3, night.status, night.out);
    assertEquals(1, night.err.lines().count(), night.err);
    assertTrue(night.err.contains("the sun must be up"), night.err);
    assertEquals(2, outlook(log, "--start=noon").status);
    assertEquals(2, outlook(log, "--start=2026-06-21T11:30Z", "--date=2026-06-22").status);
    Files.writeString(log, "# start: noon\n" + String.join("\n", lines.subList(1, lines.size())));
    assertEquals(3, outlook(log).status);
  }

  @Test
  void aLogbookFindsDirtAndAGrowingMass() throws IOException {
    Path logs = Files.createDirectories(folder.resolve("logs"));
    for (int i = 0; i < 6; i++) {
      String date = String.format("2026-06-%02d", 1 + 5 * i);
      Path log = flight("day" + i, date, 1 - 0.012 * i, 1 + 0.008 * i);
      Files.move(log, logs.resolve("day" + i + ".csv"));
    }
    Files.writeString(logs.resolve("other.csv"), "time_s,bus_v,bus_a,throttle\n0,29,3,0.5\n");
    Path page = folder.resolve("book.html");
    Path csv = folder.resolve("book.csv");
    Cli run =
        Cli.run(
            "logbook",
            logs,
            "--craft",
            craft,
            "--at=53.7,7.7",
            "--air-c=15",
            "--report",
            page,
            "--csv",
            csv);
    assertEquals(0, run.status, run.err);
    Matcher light =
        Pattern.compile("light response: ([-+0-9.]+) % in 30 days \\(([-+0-9.]+) to ([-+0-9.]+)\\)")
            .matcher(run.out);
    assertTrue(light.find(), run.out);
    // 1.2 % in 5 days
    assertEquals(-7.2, Double.parseDouble(light.group(1)), 0.7);
    assertTrue(run.out.contains("DIRT first"), run.out);
    Matcher hover = Pattern.compile("Hover power: ([-+0-9.]+) % in 30 days").matcher(run.out);
    assertTrue(hover.find(), run.out);
    // mass by 0.8 % in 5 days, power to the 3/2
    assertEquals(7.2, Double.parseDouble(hover.group(1)), 1);
    assertTrue(
        run.out.replaceAll("\\s+", " ").contains("left out: " + logs.resolve("other.csv")),
        run.out);
    assertEquals(7, Files.readAllLines(csv).size());
    assertTrue(Files.readString(page).contains("DIRT first"));
  }

  @Test
  void aFolderWithoutAFlightIsAnInputFault() throws IOException {
    Path logs = Files.createDirectories(folder.resolve("none"));
    Files.writeString(logs.resolve("other.csv"), "time_s,bus_v,bus_a,throttle\n0,29,3,0.5\n");
    Cli run = Cli.run("logbook", logs, "--craft", craft, "--at=53.7,7.7");
    assertEquals(3, run.status, run.out);
    assertEquals(1, run.err.lines().count(), run.err);
  }
}
