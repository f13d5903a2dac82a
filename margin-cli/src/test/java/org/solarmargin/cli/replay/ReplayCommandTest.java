package org.solarmargin.cli.replay;

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

class ReplayCommandTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");

  @TempDir private Path folder;

  private Path write(String name, List<String> lines) throws IOException {
    return Files.write(folder.resolve(name), lines);
  }

  private static List<String> cloud() throws IOException {
    return new ArrayList<>(Files.readAllLines(CLOUD));
  }

  /** The same flight with a poor current sensor, with and without its WARNING. */
  @Test
  void theHeadlineAgreesWithAlertsAndBound() throws IOException {
    List<String> profile = new ArrayList<>(Files.readAllLines(Cli.STILT));
    profile.removeIf(line -> line.startsWith("sensor.current_gain_sd_pct"));
    profile.add("sensor.current_gain_sd_pct = 20");
    Cli warned = Cli.run("replay", CLOUD, "--craft", write("warned.properties", profile));
    assertTrue(warned.out.contains("A WARNING was active for 0:"), warned.out);
    profile.addAll(List.of("alert.warning_margin_pct = 0", "alert.warning_time_s = 0"));
    Cli doubtful = Cli.run("replay", CLOUD, "--craft", write("doubtful.properties", profile));
    assertTrue(doubtful.out.contains("There may have been moments"), doubtful.out);
    assertTrue(doubtful.out.contains("it may have been zero: at 0:"), doubtful.out);
    assertTrue(doubtful.out.contains("a CAUTION means that the reserve is small"), doubtful.out);
  }

  @Test
  void distinguishesASurvivedCloudFromALoss() {
    Cli cloud = Cli.run("replay", CLOUD, "--craft", Cli.STILT);
    assertEquals(0, cloud.status, cloud.err);
    assertTrue(cloud.out.contains("There was spare power throughout"), cloud.out);
    assertFalse(cloud.out.contains("LOSS"), cloud.out);
    Cli fade = Cli.run("replay", FADE, "--craft", Cli.STILT);
    assertEquals(0, fade.status, fade.err);
    assertTrue(fade.out.contains("LOST LIFT: past the knee at 1:3"), fade.out);
    assertTrue(fade.out.contains("WARNING   raised"), fade.out);
    assertTrue(fade.out.contains("CLOSE the throttle"), fade.out);
    assertTrue(fade.out.contains("Hold the throttle at or below 0.55 here"), fade.out);
    assertTrue(fade.out.contains(" % of peak demand, limit 7.5 %"), fade.out);
    assertTrue(fade.out.contains("Least      none, all available power was drawn"), fade.out);
    assertTrue(cloud.out.contains("; lower bound (95 %) down to 12.7 W at 0:42.7"), cloud.out);
    assertTrue(fade.out.contains("not certified"), fade.out);
    assertTrue(fade.out.lines().allMatch(line -> line.length() <= 80), fade.out);
    assertFalse(fade.out.contains("\u001b"), "no colour where there is no terminal");
  }

  @Test
  void anAlertOfTimeNamesItsLimit() throws IOException {
    List<String> profile = new ArrayList<>(Files.readAllLines(Cli.STILT));
    profile.add("alert.caution_time_s = 25");
    Cli fade = Cli.run("replay", FADE, "--craft", write("early.properties", profile));
    assertEquals(0, fade.status, fade.err);
    assertTrue(fade.out.contains("s at this rate, limit 25 s"), fade.out);
  }

  @Test
  void aLogOfOneLineInFlightDoesNotSayThatItNeverLeftIdle() throws IOException {
    Path one = write("one.csv", List.of("time_s,bus_v,bus_a,throttle", "0,29,2.6,0.5"));
    Cli run = Cli.run("replay", one, "--craft", Cli.STILT);
    assertTrue(run.out.contains("too few samples above idle"), run.out + run.err);
    assertFalse(run.out.contains("never left idle"), run.out);
  }

  @Test
  void anImplausibleThermometerIsLeftOutAndReported() throws IOException {
    assertFalse(replayWithCellCelsius("44").contains("cell_c"), "about what the cells have");
    // 317 K are 44 degrees C; a common digital thermometer that is disconnected reads -127
    for (String celsius : List.of("90", "317", "-127")) {
      String out = replayWithCellCelsius(celsius);
      assertTrue(out.replaceAll("\\s+", " ").contains("Cells cell_c disagrees with voltage"), out);
    }
  }

  private String replayWithCellCelsius(String celsius) throws IOException {
    List<String> lines = cloud();
    for (int i = 0; i < lines.size(); i++) {
      lines.set(i, lines.get(i) + (i == 0 ? ",cell_c" : "," + celsius));
    }
    Cli run = Cli.run("replay", write("cells" + celsius + ".csv", lines), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    return run.out;
  }

  @Test
  void writesOneEstimateForEachAcceptedSampleAndEveryAlert() throws IOException {
    Path estimates = folder.resolve("e.csv");
    Path alerts = folder.resolve("a.csv");
    Cli run =
        Cli.run("replay", FADE, "--craft", Cli.STILT, "--estimates", estimates, "--alerts", alerts);
    assertEquals(0, run.status, run.err);
    List<String> log = Files.readAllLines(FADE);
    List<String> lines = Files.readAllLines(estimates);
    assertEquals(log.size(), lines.size());
    assertTrue(
        lines
            .get(0)
            .startsWith(
                "time_s,status,available_w,available_low_w,demand_w,margin_w,margin_low_w,mpp_v,"
                    + "throttle_ceiling,lift_reserve_pct,time_to_zero_s,level"));
    for (int i = 1; i < lines.size(); i++) {
      String[] fields = lines.get(i).split(",", -1);
      assertEquals(log.get(i).split(",", -1)[0], fields[0], "the log's own time");
      double available = Double.parseDouble(fields[2]);
      double low = Double.parseDouble(fields[3]);
      assertTrue(low >= 0 && low <= available, lines.get(i));
      assertFalse(lines.get(i).contains("NaN") || lines.get(i).contains("Inf"), lines.get(i));
    }
    List<String> steps = Files.readAllLines(alerts);
    assertTrue(steps.get(0).startsWith("time_s,level,state,reason"));
    assertTrue(steps.stream().anyMatch(line -> line.contains(",WARNING,RAISED,")));
  }

  @Test
  void aFaultLeavesNoPartialFileAndKeepsTheOldOne() throws IOException {
    List<String> lines = cloud();
    for (int i = 811; i < 1011; i++) {
      lines.set(i, "16.2,28.1,volts,0.5");
    }
    Path log = write("bad.csv", lines);
    Path estimates = write("e.csv", List.of("old"));
    Cli run = Cli.run("replay", log, "--craft", Cli.STILT, "--estimates", estimates);
    assertEquals(3, run.status);
    assertTrue(
        run.err.contains("bad.csv line 812: bus_a must be a number or empty: volts"), run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    assertEquals(List.of("old"), Files.readAllLines(estimates));
    try (var files = Files.list(folder)) {
      assertEquals(2, files.count(), "no draft left behind");
    }
  }

  @Test
  void aLogThroughAPipeIsReplayed() throws Exception {
    Path pipe = folder.resolve("pipe");
    boolean made = false;
    try {
      made = new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor() == 0;
    } catch (IOException e) {
      made = false;
    }
    org.junit.jupiter.api.Assumptions.assumeTrue(made, "mkfifo is not there");
    byte[] lines = Files.readAllBytes(CLOUD);
    Thread feeder =
        new Thread(
            () -> {
              try {
                Files.write(pipe, lines);
              } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
              }
            });
    feeder.setDaemon(true);
    feeder.start();
    Cli run = Cli.run("replay", pipe, "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("4501 samples"), run.out);
  }

  @Test
  void oneDamagedLineIsLeftOutAndReported() throws IOException {
    List<String> lines = cloud();
    lines.set(811, "16.2,28.1,volts,0.5");
    Cli run = Cli.run("replay", write("bad.csv", lines), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    String out = run.out.replaceAll("\\s+", " ");
    assertTrue(out.contains("line 812: bus_a must be a number or empty: volts"), run.out);
  }

  @Test
  void aLastLineCutByPowerLossIsLeftOut() throws IOException {
    List<String> lines = cloud();
    lines.set(lines.size() - 1, "90.0,28.");
    Cli run = Cli.run("replay", write("cut.csv", lines), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("cut short"), run.out);
  }

  @Test
  void otherNamesAndUnitsAreMapped() throws IOException {
    List<String> lines = cloud();
    List<String> mapped = new ArrayList<>(List.of("us,mV,mA,pulse,junk"));
    for (String line : lines.subList(1, lines.size())) {
      String[] f = line.split(",", -1);
      mapped.add(
          Math.round(1e6 * Double.parseDouble(f[0]))
              + ","
              + 1000 * Double.parseDouble(f[1])
              + ","
              + 1000 * Double.parseDouble(f[2])
              + ","
              + (1000 + 1000 * Double.parseDouble(f[3]))
              + ",x");
    }
    Path log = write("m.csv", mapped);
    Cli plain = Cli.run("replay", CLOUD, "--craft", Cli.STILT);
    Cli run =
        Cli.run(
            "replay",
            log,
            "--craft",
            Cli.STILT,
            "--column",
            "time_s=us:us",
            "--column",
            "bus_v=mV:mV",
            "--column",
            "bus_a=mA:mA",
            "--column",
            "throttle=pulse:us");
    assertEquals(0, run.status, run.err);
    assertEquals(
        plain.out.lines().skip(1).toList(), run.out.lines().skip(1).toList(), "the same flight");
  }

  @ParameterizedTest
  @ValueSource(strings = {"bus_v", "volts=x", "bus_v=x:furlong", "=x"})
  void aMappingThatCannotBeReadIsWrongUsage(String mapping) {
    Cli run = Cli.run("replay", CLOUD, "--craft", Cli.STILT, "--column", mapping);
    assertEquals(2, run.status);
    assertTrue(run.err.contains("--column"), run.err);
  }

  @Test
  void theWrongArrayIsReportedAndNothingIsWritten() throws IOException {
    String profile = Files.readString(Cli.STILT).replace("series_cells = 48", "series_cells = 26");
    Path craft = Files.writeString(folder.resolve("p.properties"), profile);
    Path estimates = folder.resolve("e.csv");
    Cli run = Cli.run("replay", CLOUD, "--craft", craft, "--estimates", estimates);
    assertEquals(3, run.status);
    assertTrue(run.err.contains("26 of these cells in series"), run.err);
    assertTrue(run.err.contains("array.series_cells"), run.err);
    assertFalse(Files.exists(estimates));
  }

  @Test
  void reportsWhatIsMissing() throws IOException {
    assertEquals(2, Cli.run("replay", CLOUD).status);
    assertEquals(2, Cli.run().status);
    Cli none = Cli.run("replay", folder.resolve("none.csv"), "--craft", Cli.STILT);
    assertEquals(3, none.status);
    assertTrue(none.err.contains("no such file"), none.err);
    Cli column =
        Cli.run(
            "replay",
            write("c.csv", List.of("time_s,bus_v,throttle", "0,1,0")),
            "--craft",
            Cli.STILT);
    assertEquals(3, column.status);
    assertTrue(column.err.contains("no column bus_a"), column.err);
    Cli empty = Cli.run("replay", write("empty.csv", List.of()), "--craft", Cli.STILT);
    assertEquals(3, empty.status);
    Cli header =
        Cli.run(
            "replay", write("h.csv", List.of("time_s,bus_v,bus_a,throttle")), "--craft", Cli.STILT);
    assertEquals(3, header.status);
    assertTrue(header.err.contains("no samples"), header.err);
    Cli profile = Cli.run("replay", CLOUD, "--craft", write("q.properties", List.of("x = 1")));
    assertEquals(3, profile.status);
    assertTrue(profile.err.contains("unknown key x"), profile.err);
  }

  @Test
  void refusedSamplesAreCountedByReason() throws IOException {
    List<String> lines = cloud();
    lines.set(1000, "19.98,,2.5,0.5,10");
    lines.set(1001, "20.00,29.5,NaN,0.49,10");
    lines.set(1002, "20.02,28,2.5,1.7,10");
    lines.set(1003, "20.02,28,2.5,0.5,10");
    Cli run = Cli.run("replay", write("r.csv", lines), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("2: 1 time repeated, 1 throttle outside 0 to 1"), run.out);
  }

  @Test
  void commentsCrLfAndBomAreRead() throws IOException {
    List<String> lines = cloud();
    lines.add(0, "# a comment");
    Path log =
        Files.writeString(folder.resolve("w.csv"), "\ufeff" + String.join("\r\n", lines) + "\r\n");
    Cli run = Cli.run("replay", log, "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("4501 samples"), run.out);
  }

  @Test
  void helpListsTheRequiredColumns() {
    Cli run = Cli.run("replay", "--help");
    assertEquals(0, run.status);
    assertTrue(run.out.contains("time_s, bus_v, bus_a, throttle"), run.out);
    assertTrue(run.out.contains("Examples:"), run.out);
    assertTrue(run.out.lines().allMatch(line -> line.length() <= 80), run.out);
  }

  /** A simulated flight is set against its truth, drawn and scored on the page. */
  @Test
  void theTruthOfASimulatedFlightIsOnThePage() throws IOException {
    Path scenario = folder.resolve("short.properties");
    Files.writeString(scenario, "plan = 10:20\n");
    Path log = folder.resolve("log.csv");
    Path truth = folder.resolve("truth.csv");
    Cli.run("simulate", scenario, "--craft", Cli.STILT, "--log", log, "--truth", truth);
    Path page = folder.resolve("page.html");
    Path craft = Cli.timed(folder);
    Cli run = Cli.run("replay", log, "--craft", craft, "--report", page, "--truth", truth);
    assertEquals(0, run.status, run.err);
    java.util.regex.Matcher scored =
        java.util.regex.Pattern.compile(
                "rms error ([0-9.]+) %, lower bound holds ([0-9.]+) % of the time")
            .matcher(Files.readString(page));
    assertTrue(scored.find(), "the page has a score");
    assertTrue(Double.parseDouble(scored.group(1)) < 20, scored.group());
    assertTrue(Double.parseDouble(scored.group(2)) > 80, scored.group());
    Path plain = folder.resolve("plain.html");
    Cli.run("replay", log, "--craft", craft, "--report", plain);
    assertFalse(Files.readString(plain).contains("against the truth"));
    Files.writeString(truth, String.join("\n", Files.readAllLines(truth).subList(0, 50)));
    Cli shorter = Cli.run("replay", log, "--craft", craft, "--report", page, "--truth", truth);
    assertEquals(3, shorter.status, "a truth of another flight: " + shorter.err);
  }
}
