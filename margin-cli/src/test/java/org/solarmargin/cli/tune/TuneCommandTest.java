package org.solarmargin.cli.tune;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.profile.CraftProfile;

/** {@code margin tune}, {@code compare} and {@code replay --fail-on} as their users run them. */
class TuneCommandTest {

  private static final Path FLIGHTS = Cli.EXAMPLES.resolve("flights");

  @TempDir private Path folder;

  @Test
  void recommendsWithEvidenceAndWritesAValidProfile() throws IOException {
    Path tuned = folder.resolve("tuned.properties");
    Cli run = Cli.run("tune", FLIGHTS, "--craft", Cli.STILT, "--out", tuned);
    assertEquals(0, run.status, run.err);
    for (String word :
        List.of(
            "FEW EVENTS", "frontier", "present", "RECOMMENDED", "on left-out", "slow-fade.csv")) {
      assertTrue(run.out.contains(word), () -> word + " in\n" + run.out);
    }
    CraftProfile profile = CraftProfile.read(tuned);
    String words = profile.rules().words(AlertLevel.WARNING);
    assertTrue(Files.readString(tuned).contains("# " + words), "rules in words in the profile");
    assertEquals("Stilt", profile.name());
    Path again = folder.resolve("again.properties");
    assertEquals(0, Cli.run("tune", FLIGHTS, "--craft", tuned, "--out", again).status);
    long comments =
        Files.readAllLines(again).stream().filter(l -> l.startsWith("# alert rules by")).count();
    assertEquals(1, comments, "tuned twice, one comment");
  }

  @Test
  void eventsCanBeRemovedAndAdded() {
    Path log = FLIGHTS.resolve("slow-fade.csv");
    Cli plain = Cli.run("tune", log, "--craft", Cli.STILT, "--check");
    assertTrue(plain.out.contains("of 1 events"), plain.out);
    Cli struck = Cli.run("tune", log, "--craft", Cli.STILT, "--check", "--strike", 97.3);
    assertTrue(struck.out.contains("of 0 events"), struck.out);
    Cli added =
        Cli.run("tune", FLIGHTS, "--craft", Cli.STILT, "--check", "--event", "gusty-hover.csv@30");
    assertEquals(4, added.status, added.out);
    assertTrue(added.out.contains("missed 1 of 2 events"), added.out);
    assertEquals(2, Cli.run("tune", log, "--craft", Cli.STILT, "--event", "soon").status);
  }

  private static void refused(String option, String value, String reason) {
    Path log = FLIGHTS.resolve("slow-fade.csv");
    Cli run = Cli.run("tune", log, "--craft", Cli.STILT, "--check", option, value);
    assertEquals(2, run.status, run.out);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.startsWith(option + " " + value + ": "), run.err);
    assertTrue(run.err.contains(reason), run.err);
    assertEquals("", run.out);
  }

  @Test
  void eventsThatCannotBeMeantAreRefused() {
    refused("--event", "nofile@20", "the log nofile is not given");
    refused("--strike", "f9.csv@20", "the log f9.csv is not given");
    refused("--event", "500", "the log slow-fade.csv lasts from 0.0 to 130.0 s");
    refused("--event", "slow-fade.csv@-30", "lasts from 0.0 to");
    refused("--strike", "slow-fade.csv@50", "no event begins within 2.5 s");
  }

  @Test
  void anEventShortlyAfterTheEndOfALogIsAccepted() {
    Path log = FLIGHTS.resolve("gusty-hover.csv");
    Cli run = Cli.run("tune", log, "--craft", Cli.STILT, "--check", "--event", "121");
    assertTrue(run.out.contains("of 1 events"), run.out + run.err);
  }

  @Test
  void marksInTheLogAreEvents() throws IOException {
    List<String> lines = Files.readAllLines(FLIGHTS.resolve("gusty-hover.csv"));
    StringBuilder text = new StringBuilder();
    boolean header = true;
    int row = 0;
    for (String line : lines) {
      if (line.startsWith("#")) {
        continue;
      }
      boolean marked = row > 2000 && row < 2010;
      text.append(line).append(',').append(header ? "event" : marked ? "sank" : "").append('\n');
      header = false;
      row++;
    }
    Path log = folder.resolve("marked.csv");
    Files.writeString(log, text);
    Cli run = Cli.run("tune", log, "--craft", Cli.STILT);
    assertTrue(run.out.contains("marked: sank"), run.out);
  }

  @Test
  void anUnusableLogAmongOthersIsReportedAndLeftOut() throws IOException {
    Files.copy(FLIGHTS.resolve("slow-fade.csv"), folder.resolve("a.csv"));
    Files.writeString(folder.resolve("b.csv"), "time_s,bus_v\n1,2\n");
    Cli run = Cli.run("tune", folder, "--craft", Cli.STILT, "--check");
    assertEquals(0, run.status, run.err);
    assertTrue(run.err.contains("left out: ") && run.err.contains("b.csv"), run.err);
    assertEquals(3, Cli.run("tune", folder.resolve("b.csv"), "--craft", Cli.STILT).status);
  }

  @Test
  void compareSetsTwoProfilesSideBySide() throws IOException {
    Path other = folder.resolve("other.properties");
    Files.writeString(other, Files.readString(Cli.STILT) + "alert.warning_margin_pct = 15\n");
    Cli run = Cli.run("compare", Cli.STILT, other, FLIGHTS);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("s before"), run.out);
    String voltage = run.out.lines().filter(l -> l.startsWith("fixed voltage")).findAny().get();
    String warning = run.out.lines().filter(l -> l.startsWith("all ")).findAny().get();
    assertTrue(voltage.contains("1 event, 0 missed"), voltage);
    assertTrue(warning.contains("1 event, 0 missed"), warning);
    assertTrue(lead(voltage) > 0 && lead(warning) > 0, voltage + "\n" + warning);
    assertEquals(2, Cli.run("compare", Cli.STILT, other).status);
  }

  @Test
  void replayFailsOnTheLevelAskedFor() {
    Path calm = FLIGHTS.resolve("cloud-passage.csv");
    Path lost = FLIGHTS.resolve("slow-fade.csv");
    assertEquals(0, Cli.run("replay", calm, "--craft", Cli.STILT, "--fail-on", "WARNING").status);
    assertEquals(4, Cli.run("replay", lost, "--craft", Cli.STILT, "--fail-on", "warning").status);
    assertEquals(2, Cli.run("replay", lost, "--craft", Cli.STILT, "--fail-on", "loud").status);
  }

  private static double lead(String row) {
    String words = row.substring(row.indexOf("median ") + 7);
    return Double.parseDouble(words.substring(0, words.indexOf(' ')));
  }

  /** The truth decides on events: a flight past the knee has one, a calm one has none. */
  @Test
  void theTruthOfSimulatedFlightsDecidesOnEvents() throws IOException {
    Path logs = Files.createDirectory(folder.resolve("logs"));
    Path truths = Files.createDirectory(folder.resolve("truths"));
    String fade = "plan = 10:90\nsky.kind = ramps\nsky.low_suns = 0.3\nsky.suns_per_s = 0.02\n";
    String[][] flights = {{"calm", "plan = 10:20\n"}, {"fade", fade + "sky.repeats = 0\n"}};
    for (String[] flight : flights) {
      Path scenario = Files.writeString(folder.resolve(flight[0] + ".properties"), flight[1]);
      Path log = logs.resolve(flight[0] + ".csv");
      Path truth = truths.resolve(flight[0] + ".csv");
      Cli.run("simulate", scenario, "--craft", Cli.STILT, "--log", log, "--truth", truth);
    }
    Path craft = Cli.timed(folder);
    Cli both = Cli.run("tune", logs, "--craft", craft, "--check", "--truth", truths);
    assertTrue(both.out.contains(" of 1 events"), both.out + both.err);
    Cli calm =
        Cli.run("tune", logs.resolve("calm.csv"), "--craft", craft, "--check", "--truth", truths);
    assertEquals(0, calm.status, calm.err);
    assertTrue(calm.out.contains("missed 0 of 0 events"), calm.out);
    Files.delete(truths.resolve("calm.csv"));
    Cli missing =
        Cli.run("tune", logs.resolve("calm.csv"), "--craft", craft, "--check", "--truth", truths);
    assertEquals(3, missing.status);
    assertTrue(missing.err.contains("calm.csv: no such file"), missing.err);
  }

  /** A log that cannot be judged is left out of the sums, named, and makes the exit status 3. */
  @Test
  void compareLeavesOutWhatItCannotJudge() throws IOException {
    Path craft = Cli.timed(folder);
    Path good = Files.copy(FLIGHTS.resolve("gusty-hover.csv"), folder.resolve("good.csv"));
    Path bad = folder.resolve("a-log-whose-name-is-longer-than-the-table.csv");
    StringBuilder rows = new StringBuilder("time_s,bus_v,bus_a,throttle\n");
    for (int i = 0; i < 1500; i++) {
      rows.append(0.02 * i).append(",25,0.01,").append(i % 9 == 0 ? 0.5 : 0.51).append('\n');
    }
    Files.writeString(bad, rows);
    Cli run = Cli.run("compare", craft, Cli.timed(folder), good, bad);
    assertEquals(3, run.status, run.out + run.err);
    assertTrue(run.out.contains("a-log-whose-name-is-longe~"), run.out);
    assertTrue(run.out.contains("not usable, left out"), run.out);
    assertTrue(run.err.startsWith("under A: " + bad), run.err);
    assertTrue(run.err.contains("under B: " + bad), run.err);
  }
}
