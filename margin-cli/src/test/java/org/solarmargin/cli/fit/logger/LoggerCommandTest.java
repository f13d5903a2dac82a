package org.solarmargin.cli.fit.logger;

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
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.core.timing.TimeModel;

class LoggerCommandTest {

  private static final Path GUSTY = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");
  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");

  @TempDir private Path folder;

  @Test
  void theLinesArePutIntoTheProfileAndCommentsAreKept() throws IOException {
    Path first = LoggedCopy.write(folder.resolve("one.csv"), GUSTY, 0.2, 0, 1);
    Path second = LoggedCopy.write(folder.resolve("two.csv"), FADE, 0.2, 0, 1);
    Path profile = folder.resolve("craft.properties");
    List<String> before = new java.util.ArrayList<>(Files.readAllLines(Cli.STILT));
    before.add("# a note of mine");
    before.add("sensor.voltage_filter_s = 0.9");
    before.add("# the last word");
    Files.write(profile, before);
    Cli run = Cli.run("fit", "logger", first, second, "--craft", Cli.STILT, "--into", profile);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("from 2 logs"), run.out);
    List<String> after = Files.readAllLines(profile);
    int note = after.indexOf("# a note of mine");
    assertTrue(after.get(note + 1).startsWith("sensor.voltage_filter_s = 0."), "in its place");
    assertEquals("# the last word", after.get(note + 2));
    assertEquals(before.subList(0, note), after.subList(0, note), "other lines are kept");
    TimeModel timing = Inputs.profile(profile).settings().timing();
    assertEquals(TimeModel.Source.STATED, timing.source());
    assertEquals(0.2, timing.volts().filterSeconds(), 0.05);
    assertEquals(0.2, timing.amps().filterSeconds(), 0.05);
    assertEquals(0.01, timing.volts().roundingStep(), 1e-9);
  }

  @Test
  void undeterminedValuesAreReportedWithTheFlightToMake() throws IOException {
    Path still =
        FlightLog.write(
            folder.resolve("still.csv"),
            GUSTY,
            (i, s) -> new Sample(s.seconds(), 24 + 0.01 * (i % 7), 3, 0.5).line());
    Path out = folder.resolve("lines.properties");
    Cli fit = Cli.run("fit", "logger", still, "--craft", Cli.STILT);
    assertEquals(0, fit.status, fit.err);
    assertTrue(fit.out.contains("cannot be determined from this log"), fit.out);
    assertTrue(fit.out.contains("throttle steps"), fit.out);
    assertFalse(fit.out.contains("For the craft profile"), fit.out);
    Cli asked = Cli.run("fit", "logger", still, "--craft", Cli.STILT, "--out", out);
    assertEquals(3, asked.status);
    assertTrue(
        asked.err.contains("still.csv") && asked.err.contains("fly throttle steps"), asked.err);
    assertFalse(Files.exists(out), "nothing is half-written");
  }

  @Test
  void aLogInAnotherUnitIsLeftOutAndSaid() throws IOException {
    Path millivolts =
        FlightLog.write(
            folder.resolve("mv.csv"),
            GUSTY,
            (i, s) -> new Sample(s.seconds(), 1000 * s.volts(), s.amps(), s.throttle()).line());
    String advice =
        "mv.csv: the voltage is 2[0-9]{4}: if the unit is mV, add --column bus_v=bus_v:mV";
    Cli alone = Cli.run("fit", "logger", millivolts, "--craft", Cli.STILT);
    assertEquals(3, alone.status, alone.out);
    assertTrue(alone.err.strip().matches(".*" + advice), alone.err);
    Cli both = Cli.run("fit", "logger", millivolts, GUSTY, "--craft", Cli.STILT);
    assertEquals(0, both.status, both.err);
    assertTrue(both.out.contains("from 1 log with"), both.out);
    assertTrue(both.out.strip().matches("(?s).*\nLeft out: .*" + advice), both.out);
  }

  @Test
  void aLogWithoutAFlightIsRefused() throws IOException {
    Path ground =
        FlightLog.write(
            folder.resolve("ground.csv"),
            GUSTY,
            (i, s) -> new Sample(s.seconds(), s.volts(), 0.1, 0.02).line());
    Cli run = Cli.run("fit", "logger", ground, "--craft", Cli.STILT);
    assertEquals(3, run.status, run.out);
    assertTrue(run.err.contains("ground.csv: no usable row in the air"), run.err);
  }

  @Test
  void aFragmentHasProfileLines() throws IOException {
    Path log = LoggedCopy.write(folder.resolve("late.csv"), GUSTY, 0, 3, 1);
    Path out = folder.resolve("lines.properties");
    Cli run = Cli.run("fit", "logger", log, "--craft", Cli.STILT, "--out", out);
    assertEquals(0, run.status, run.err);
    List<String> lines = Files.readAllLines(out);
    assertTrue(lines.contains("sensor.current_delay_s = 0.060"), lines.toString());
    assertTrue(lines.contains("sensor.voltage_delay_s = 0.000"), lines.toString());
  }

  @Test
  void aMissingProfileIsRefusedBeforeAnythingIsRead() {
    Path none = folder.resolve("none.properties");
    Cli run = Cli.run("fit", "logger", GUSTY, "--craft", Cli.STILT, "--into", none);
    assertEquals(3, run.status);
    assertTrue(run.err.contains("no such file"), run.err);
  }
}
