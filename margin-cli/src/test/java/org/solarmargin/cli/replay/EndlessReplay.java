package org.solarmargin.cli.replay;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.report.FlightTrace;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;

/** Replays a generated log of a given number of lines, as a test program for a small heap. */
final class EndlessReplay {

  /** An endless hover. */
  private static final class EndlessLog extends InputStream {
    private final int lines;
    private byte[] chunk = "time_s,bus_v,bus_a,throttle\n".getBytes(StandardCharsets.US_ASCII);
    private int at;
    private int line;

    EndlessLog(int lines) {
      this.lines = lines;
    }

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
      if (line >= lines) {
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
      return true;
    }
  }

  private EndlessReplay() {}

  /**
   * Replays, and prints how many samples the monitor has processed.
   *
   * @param args number of lines, a multiple of 1000
   * @throws IOException if the demo profile cannot be read
   */
  public static void main(String[] args) throws IOException {
    Writer nowhere = Writer.nullWriter();
    Replay replay =
        new Replay(
            new LogTiming(CraftProfile.read(Cli.STILT).withTiming(TimeModel.SIMULTANEOUS), ""),
            Double.NaN,
            new EstimatesCsv(nowhere),
            new AlertsCsv(nowhere),
            new FlightTrace(),
            null);
    EndlessLog log = new EndlessLog(Integer.parseInt(args[0]));
    try (LogReader reader = new LogReader("endless", log, new ColumnMap(List.of()));
        Progress progress = new Progress(new PrintWriter(nowhere), false, "", 0)) {
      replay.run(reader, progress);
    }
    System.out.println(replay.monitor().gate().samples() + " samples");
  }
}
