package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.profile.CraftProfile;

/** The time that a feed gives to rows whose own time is coarse or late. */
class LiveFeedTest {

  private final LiveFeed feed;

  LiveFeedTest() throws Exception {
    feed = new LiveFeed(CraftProfile.read(Cli.STILT));
  }

  private double take(double stamp, double local) {
    Row row = new Row(Math.round(stamp * 1e9), 28, 2.7, 0.5, Double.NaN);
    return feed.take(row, local).nanos() * 1e-9;
  }

  /** A row every 0.02 s, stamped with the whole second before it. */
  @Test
  void withinAWholeSecondTheLocalClockCounts() {
    for (int i = 0; i < 200; i++) {
      double seconds = 0.02 * i;
      assertEquals(seconds, take(Math.floor(seconds + 1e-9), 900 + seconds), 1e-6, "row " + i);
    }
  }

  /** A row that repeats a stamp of 5 s so long after the row before it. */
  @ParameterizedTest
  @CsvSource({"0, 5.000001", "0.03, 5.03", "2, 5.5"})
  void aRepeatedStampIsAtMostHalfASecondLater(double later, double expected) {
    take(5, 100);
    assertEquals(expected, take(5, 100 + later), 1e-9);
  }

  @Test
  void aLaterStampIsTaken() {
    take(5, 100);
    assertEquals(5.1, take(5.1, 100.3), 1e-9);
  }
}
