package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;

/** Logs of which little or nothing can be used. */
class UnusableLogTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");

  @TempDir private Path folder;

  private Path log(Path flight, FlightLog.Change change) throws IOException {
    return FlightLog.write(folder.resolve("log.csv"), flight, change);
  }

  private Cli replay(Path log) {
    return Cli.run(
        "replay",
        log,
        "--craft",
        Cli.STILT,
        "--estimates",
        folder.resolve("e.csv"),
        "--alerts",
        folder.resolve("a.csv"),
        "--report",
        folder.resolve("r.html"));
  }

  private static String headline(Cli run) {
    return run.out.split("\\R-+\\R", 2)[1].split("\\R\\R", 2)[0].replaceAll("\\s+", " ");
  }

  @Test
  void aCheckOfALogWithoutAFlightIsNotPassed() throws IOException {
    Path ground = folder.resolve("ground.csv");
    Files.writeString(ground, "time_s,bus_v,bus_a,throttle\n0,30,0.1,0\n0.02,30,0.1,0\n");
    assertEquals(0, Cli.run("replay", ground, "--craft", Cli.STILT).status);
    Cli run = Cli.run("replay", ground, "--craft", Cli.STILT, "--fail-on", "WARNING");
    assertEquals(3, run.status);
    assertTrue(run.err.contains("no flight in this log, so --fail-on"), run.err);
  }

  /** One line with the right status for each sample, and complete output files. */
  private List<String> assertOutputsComplete(Path log) throws IOException {
    List<String> samples = Files.readAllLines(log);
    List<String> estimates = Files.readAllLines(folder.resolve("e.csv"));
    assertEquals(samples.size(), estimates.size(), "a line for each sample");
    int columns = estimates.get(0).split(",", -1).length;
    for (String line : estimates) {
      assertEquals(columns, line.split(",", -1).length, line);
      assertFalse(line.contains("NaN"), line);
    }
    assertTrue(Files.readString(folder.resolve("a.csv")).startsWith("time_s,level,state"));
    assertTrue(Files.readString(folder.resolve("r.html")).strip().endsWith("</html>"));
    return estimates;
  }

  private static void assertRefused(Cli run, String words) {
    assertEquals(3, run.status, run.out + run.err);
    assertTrue(headline(run).contains(words), headline(run));
    assertFalse(run.out.contains("to spare"), run.out);
    assertFalse(run.out.contains("nothing to"), run.out);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains("log.csv: "), run.err);
    assertTrue(run.out.lines().allMatch(line -> line.length() <= 80), run.out);
    assertEquals(100, percents(run), run.out);
  }

  private static int percents(Cli run) {
    String text = run.out.split("Estimate +", 2)[1].split(" of\\s+the\\s+flight", 2)[0];
    return Pattern.compile("(\\d+) %")
        .matcher(text)
        .results()
        .mapToInt(m -> Integer.parseInt(m.group(1)))
        .sum();
  }

  @Test
  void aFlightReadableToAThirdIsReportedFirstAndWrittenCompletely() throws IOException {
    int third = 1500;
    Path log = log(CLOUD, (i, s) -> i < third ? s.line() : s.seconds() + ",,2.5," + s.throttle());
    Cli run = replay(log);
    assertRefused(run, "No usable estimate for 7");
    assertTrue(run.err.contains("too little of the flight has an estimate"), run.err);
    List<String> estimates = assertOutputsComplete(log);
    assertTrue(estimates.get(third).contains(",SHARP,"), estimates.get(third));
    assertTrue(
        estimates.get(third + 100).matches("[0-9.]+,SENSOR_FAULT,{10}[A-Z]*,,,,"),
        estimates.get(third + 100));
  }

  @Test
  void aMostlyReadableFlightIsAcceptedWithoutReassurance() throws IOException {
    Path log = log(CLOUD, (i, s) -> i < 3000 ? s.line() : s.seconds() + ",,2.5," + s.throttle());
    Cli run = replay(log);
    assertEquals(0, run.status, run.err);
    assertTrue(headline(run).startsWith("No usable estimate for 3"), headline(run));
    assertFalse(run.out.contains("to spare"), run.out);
    assertFalse(run.out.contains("nothing to"), run.out);
    assertEquals(100, percents(run), run.out);
    assertOutputsComplete(log);
  }

  @Test
  void aLossInTheReadablePartIsReported() throws IOException {
    Path log =
        log(
            FADE,
            (i, s) -> i > 4600 && i < 5100 ? s.line() : s.seconds() + ",,2.5," + s.throttle());
    Cli run = replay(log);
    assertEquals(3, run.status, run.out);
    assertTrue(headline(run).matches("No usable estimate for .*LOST LIFT.*"), headline(run));
    assertTrue(run.out.replaceAll("\\s+", " ").contains("CLOSE the throttle"), run.out);
  }

  @ParameterizedTest
  @ValueSource(strings = {"nan", "NaN", "NAN", "+nan", "-nan", "-NaN", "", " "})
  void nanInAnyCaseIsAnAbsentReadingInEveryColumn(String absent) throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) -> {
              String[] fields = s.line().split(",", -1);
              if (i >= 1000 && i < 1004) {
                fields[i - 1000] = absent;
              }
              return String.join(",", fields);
            });
    Cli run = replay(log);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("1: 1 not a number"), "only the line without a time is refused");
    List<String> estimates = assertOutputsComplete(log);
    assertTrue(estimates.get(1001).startsWith(",SENSOR_FAULT,,"), estimates.get(1001));
  }

  @Test
  void linesWithoutATimeInOrderKeepTheirPlaceAndTheirText() throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) -> {
              String rest = s.line().substring(s.line().indexOf(','));
              return switch (i) {
                case 0 -> "1e300" + rest;
                case 500 -> "9.980" + rest;
                case 501 -> "3.0" + rest;
                case 502 -> "Infinity" + rest;
                default -> s.line();
              };
            });
    // the first finite time counts: 1e300 is far from every other
    Cli all = replay(log);
    assertEquals(3, all.status, all.out);
    assertTrue(headline(all).startsWith("Hardly any sample of this log"), all.out);
    List<String> lines = Files.readAllLines(log);
    lines.remove(1);
    Files.write(log, lines);
    Cli run = replay(log);
    assertEquals(0, run.status, run.out + run.err);
    List<String> estimates = assertOutputsComplete(log);
    for (int i = 1; i < lines.size(); i++) {
      assertEquals(
          lines.get(i).substring(0, lines.get(i).indexOf(',')),
          estimates.get(i).substring(0, estimates.get(i).indexOf(',')));
    }
    assertTrue(estimates.get(500).startsWith("9.980,SENSOR_FAULT,,"), estimates.get(500));
    assertTrue(estimates.get(501).startsWith("3.0,SENSOR_FAULT,,"), estimates.get(501));
    assertTrue(estimates.get(502).startsWith("Infinity,SENSOR_FAULT,,"), estimates.get(502));
    assertTrue(run.out.contains("1 time repeated, 1 time runs backward"), run.out);
  }

  @Test
  void refusedSamplesBeforeTheFirstReadingHaveARow() throws IOException {
    Path log = log(CLOUD, (i, s) -> i < 10 ? s.seconds() + (i < 5 ? ",,," : ",,,0") : s.line());
    assertEquals(0, replay(log).status);
    List<String> estimates = assertOutputsComplete(log);
    assertTrue(estimates.get(1).contains(",SENSOR_FAULT,,"), "no throttle: refused");
    assertTrue(estimates.get(5).contains(",SENSOR_FAULT,,"), estimates.get(5));
    assertTrue(estimates.get(6).contains(",NO_ESTIMATE,,"), "taken, but no reading yet");
    assertTrue(estimates.get(10).contains(",NO_ESTIMATE,,"), estimates.get(10));
    assertFalse(estimates.get(11).contains("NO_ESTIMATE"), estimates.get(11));
  }

  @Test
  void interchangedColumnsAreRefusedWithOneLine() throws IOException {
    Path log = log(CLOUD, (i, s) -> s.interchanged().line());
    Cli run = replay(log);
    assertRefused(run, "bus_v and bus_a look interchanged");
    assertEquals(
        1, run.out.lines().filter(line -> line.startsWith("Check      bus_v and")).count());
    assertTrue(Files.readString(folder.resolve("r.html")).contains("Check: bus_v and bus_a"));
    assertOutputsComplete(log);
  }

  @Test
  void aFlightWithoutACurrentSensorIsRefused() throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) ->
                new FlightLog.Sample(s.seconds(), s.volts(), 0.1 + i % 7 * 0.01, s.throttle())
                    .line());
    assertRefused(replay(log), "no current sensor");
    assertOutputsComplete(log);
  }

  @Test
  void aFlightWithAnIdleThrottleColumnIsRefused() throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) ->
                new FlightLog.Sample(s.seconds(), s.volts(), s.amps(), s.throttle() / 100).line());
    assertRefused(replay(log), "throttle at idle 100 %");
    assertOutputsComplete(log);
  }

  @Test
  void aLogWithoutAnyUsableSampleIsWrittenCompletely() throws IOException {
    Path log = log(CLOUD, (i, s) -> s.seconds() + "," + s.volts() + ",," + s.throttle());
    assertRefused(replay(log), "No sample of this log could be used");
    List<String> estimates = assertOutputsComplete(log);
    assertTrue(
        estimates.stream().skip(1).allMatch(line -> line.contains(",NO_ESTIMATE,,")),
        estimates.get(1));
  }

  @Test
  void oneTimeFarAheadDoesNotLengthenTheFlight() throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) -> i == 600 ? "1e6" + s.line().substring(s.line().indexOf(',')) : s.line());
    Cli run = replay(log);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("1 time far ahead"), run.out);
    assertFalse(run.out.contains("gaps in the log"), run.out);
    assertOutputsComplete(log);
  }

  @Test
  void aDoubtfulLogIsReportedWithoutReassuranceAndKeepsTheExitStatus() throws IOException {
    Path log =
        log(
            CLOUD,
            (i, s) ->
                new FlightLog.Sample(s.seconds(), s.volts(), 1.6 * s.amps(), s.throttle()).line());
    Cli run = replay(log);
    assertEquals(0, run.status, run.err);
    assertTrue(headline(run).startsWith("The log is doubtful, see Check."), headline(run));
    assertTrue(run.out.contains("Check      hover takes about"), run.out);
    assertFalse(run.out.contains("nothing to"), run.out);
  }

  /** The first three seconds after take-off do not count in the search for the time model. */
  @Test
  void noFilterIsFoundInALogOfTwoSeconds() throws IOException {
    List<String> lines = Files.readAllLines(CLOUD).subList(0, 101);
    Cli run = replay(Files.write(folder.resolve("log.csv"), lines));
    assertRefused(run, "warming up 100 %");
    assertFalse(run.out.contains("Timing"), run.out);
  }

  @Test
  void compareAndTuneLeaveOutWhatCannotBeRead() throws IOException {
    Path log = log(CLOUD, (i, s) -> s.seconds() + "," + s.volts() + ",0.0," + s.throttle());
    Cli compare = Cli.run("compare", Cli.STILT, Cli.STILT, log, FADE);
    assertEquals(3, compare.status, compare.out);
    assertTrue(compare.out.contains("not usable, left out"), compare.out);
    assertTrue(compare.out.contains("1 event,"), compare.out);
    assertTrue(compare.err.lines().allMatch(line -> line.contains("log.csv: ")), compare.err);
    Cli tune = Cli.run("tune", log, "--craft", Cli.STILT, "--check");
    assertEquals(3, tune.status, tune.out);
    assertTrue(tune.err.contains("no current sensor"), tune.err);
  }
}
