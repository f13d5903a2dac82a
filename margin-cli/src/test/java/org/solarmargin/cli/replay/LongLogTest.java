package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.report.FlightTrace;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;

/** Five million lines made on the fly: what stays in memory must not grow with the log. */
class LongLogTest {

  private static final int LINES = 5_000_000;
  private static final int EARLY = 500_000;

  /** Lists that grow by doubling may differ by this much between two looks. */
  private static final long SLACK_BYTES = 4L << 20;

  /** A hover that never ends; notes the live heap early and late. */
  private static final class EndlessLog extends InputStream {
    private byte[] chunk = "time_s,bus_v,bus_a,throttle\n".getBytes(StandardCharsets.US_ASCII);
    private int at;
    private int line;
    private long early;
    private long late;

    @Override
    public int read() {
      throw new UnsupportedOperationException("read in bulk");
    }

    @Override
    public int read(byte[] to, int offset, int length) {
      if (at == chunk.length && !refill()) {
        return -1;
      }
      int count = Math.min(length, chunk.length - at);
      System.arraycopy(chunk, at, to, offset, count);
      at += count;
      return count;
    }

    private boolean refill() {
      if (line >= LINES) {
        return false;
      }
      StringBuilder text = new StringBuilder();
      for (int i = 0; i < 1000; i++, line++) {
        int beat = line % 17;
        text.append(line / 50).append('.').append(line % 50 < 5 ? "0" : "").append(line % 50 * 2);
        text.append(",29.").append(100 + 7 * beat).append(",2.").append(60 - beat);
        text.append(",0.50").append(60 - beat).append('\n');
      }
      chunk = text.toString().getBytes(StandardCharsets.US_ASCII);
      at = 0;
      if (line == EARLY) {
        early = live();
      } else if (line == LINES) {
        late = live();
      }
      return true;
    }

    private static long live() {
      System.gc();
      Runtime runtime = Runtime.getRuntime();
      return runtime.totalMemory() - runtime.freeMemory();
    }
  }

  @Test
  void memoryDoesNotGrowWithTheLog() throws IOException {
    EndlessLog log = new EndlessLog();
    Writer nowhere = Writer.nullWriter();
    Replay replay =
        new Replay(
            new LogTiming(CraftProfile.read(Cli.STILT).withTiming(TimeModel.SIMULTANEOUS), ""),
            Double.NaN,
            new EstimatesCsv(nowhere),
            new AlertsCsv(nowhere),
            new FlightTrace(),
            null);
    try (LogReader reader = new LogReader("endless", log, new ColumnMap(List.of()));
        Progress progress = new Progress(new PrintWriter(nowhere), false, "", 0)) {
      replay.run(reader, progress);
    }
    assertEquals(LINES, replay.monitor().gate().samples());
    assertTrue(
        log.late - log.early < SLACK_BYTES,
        "live heap " + log.early + " at " + EARLY + " lines, " + log.late + " at " + LINES);
  }
}
