package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;

/**
 * A long flight at full speed: no sample is lost and memory does not grow. {@code -Dmargin.hours=8}
 * sets its length; there are 50 rows of two messages for each second of flight.
 */
class LongWatchTest {

  private static final double HOURS =
      Double.parseDouble(System.getProperty("margin.hours", "0.05"));
  private static final long ROWS = Math.round(HOURS * 3600 * 50);
  private static final long GROWTH_BYTES = 2 << 20;

  /** All packets in sequence, generated while they are read. */
  private static InputStream packets(FlightPackets flight) {
    return new Parts(
        2 * ROWS,
        number -> {
          long row = number / 2;
          return number % 2 == 0
              ? flight.outputs(row, Math.round(FlightPackets.seconds(row) * 1e6))
              : flight.bus(row);
        });
  }

  private static long used() {
    System.gc();
    return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
  }

  @Test
  void noSampleIsLostAndMemoryDoesNotGrow() throws IOException, InterruptedException {
    CraftProfile craft =
        CraftProfile.parse(
            "stilt", Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
    LiveFeed feed = new LiveFeed(craft);
    long commands = 0;
    long readings = 0;
    long refused = 0;
    long atTenth = 0;
    try (RowSource link = Links.of(craft).stream(packets(new FlightPackets()), "flight")) {
      while (!link.ended()) {
        Row row = feed.await(link, 50);
        if (row != null && !row.empty()) {
          readings += row.hasReading() ? 1 : 0;
          commands += row.hasReading() ? 0 : 1;
          Verdict verdict = feed.verdict();
          refused += verdict.refused() && verdict != Verdict.NOT_A_NUMBER ? 1 : 0;
          atTenth = readings == ROWS / 10 && row.hasReading() ? used() : atTenth;
        }
        feed.alerts();
      }
    }
    long grown = used() - atTenth;
    assertEquals(ROWS, commands);
    assertEquals(ROWS, readings);
    assertTrue(refused <= ROWS / 1000, refused + " refused");
    assertTrue(grown < GROWTH_BYTES, "grew by " + grown + " bytes");
    assertEquals(FlightPackets.seconds(ROWS - 1), feed.seconds(), 0.5);
  }
}
