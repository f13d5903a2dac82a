package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/** Each flight has its own log. */
class FlightSplitTest {

  @TempDir private Path folder;

  @Test
  void aTakeOffAfterALandingOrAClockRestartBeginsAFlight() {
    FlightSplit split = new FlightSplit();
    assertFalse(split.begins(0, false, 0));
    assertFalse(split.begins(10, true, 0), "the first take-off");
    assertFalse(split.begins(20, false, 0));
    assertFalse(split.begins(22, true, 0), "a bounce");
    assertFalse(split.begins(40, false, 0));
    assertFalse(split.begins(46, false, 0));
    assertTrue(split.begins(50, true, 0));
    assertFalse(split.begins(60, true, 0));
    assertTrue(split.begins(61, true, 1), "the clock");
    assertFalse(split.begins(62, false, 1));
    assertTrue(split.begins(70, true, 1));
  }

  /** Two flights, with ten seconds on the ground between them. */
  @Test
  void twoFlightsAreTwoLogsThatReplayReads() throws IOException {
    StringBuilder both = new StringBuilder("time_s,bus_v,bus_a,throttle\n");
    String[] rows =
        Files.readAllLines(Cli.EXAMPLES.resolve("flights/cloud-passage.csv")).stream()
            .filter(line -> line.matches("[0-9].*"))
            .limit(1500)
            .toArray(String[]::new);
    for (int flight = 0; flight < 2; flight++) {
      for (String row : rows) {
        int comma = row.indexOf(',');
        double time = Double.parseDouble(row.substring(0, comma)) + 40 * flight;
        both.append(String.format(Locale.ROOT, "%.3f", time))
            .append(row.substring(comma))
            .append('\n');
      }
      for (int i = 0; i < 450 && flight == 0; i++) {
        both.append(
            String.format(Locale.ROOT, "%.3f,33.%d,0.0%d,0\n", 30.5 + 0.02 * i, i % 7, i % 5));
      }
    }
    Path craft =
        Files.writeString(
            folder.resolve("craft.properties"),
            Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
    Files.writeString(folder.resolve("flight-002.csv"), "another's");
    var before = System.in;
    System.setIn(new ByteArrayInputStream(both.toString().getBytes(StandardCharsets.UTF_8)));
    try {
      Path log = folder.resolve("flight.csv");
      Cli run = Cli.run("watch", "--craft", craft, "--from", "-", "--log", log, "--log-per-flight");
      assertEquals(0, run.status, run.err);
      assertTrue(run.err.contains("flight-003.csv"), run.err);
    } finally {
      System.setIn(before);
    }
    assertEquals("another's", Files.readString(folder.resolve("flight-002.csv")));
    for (String name : new String[] {"flight.csv", "flight-003.csv"}) {
      Cli replay = Cli.run("replay", folder.resolve(name), "--craft", craft);
      assertEquals(0, replay.status, replay.err);
    }
    long first = Files.readAllLines(folder.resolve("flight.csv")).size();
    long second = Files.readAllLines(folder.resolve("flight-003.csv")).size();
    assertTrue(first + second >= 3452 && second > 1400 && second <= 1501, first + " and " + second);
  }
}
