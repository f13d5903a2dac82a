package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.cli.live.LinkCounts;
import org.solarmargin.cli.live.LinkCounts.Kind;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.core.profile.LogSources;

/** A fault of a link is reported by one line, once, and its end by another. */
class LinkWatchTest {

  private static final class Link implements RowSource {
    private final LinkCounts counts = new LinkCounts();
    private String problem = "";

    @Override
    public Arrived poll(long millis) {
      return null;
    }

    @Override
    public boolean ended() {
      return false;
    }

    @Override
    public String description() {
      return "link";
    }

    @Override
    public String problem() {
      return problem;
    }

    @Override
    public LinkCounts counts() {
      return counts;
    }

    @Override
    public void close() {}
  }

  private final Link link = new Link();
  private LinkWatch watch = new LinkWatch(link, LogSources.DEFAULT, true, 100);

  private void receive(Kind... kinds) {
    for (Kind kind : kinds) {
      link.counts.add(kind, 1);
    }
  }

  private void good() {
    receive(Kind.BYTES, Kind.PACKETS, Kind.READINGS, Kind.COMMANDS);
  }

  /** The only line reported until a time, with checks every tenth of a second. */
  private String until(double from, double to, Kind... kinds) {
    StringBuilder text = new StringBuilder();
    for (double t = from; t <= to; t += 0.1) {
      receive(kinds);
      String line = watch.line(t);
      text.append(line).append(line.isEmpty() ? "" : "\n");
    }
    assertTrue(text.toString().lines().count() <= 1, text.toString());
    return text.toString().strip();
  }

  @Test
  void aDeadLinkAndItsReturn() {
    assertEquals("", until(100, 104.9));
    assertEquals(
        "link: nothing has arrived for 5 s: is the sender switched on, and does it send to this"
            + " machine?",
        until(105, 120));
    good();
    assertEquals("link: data arrive again after 20.5 s", watch.line(120.5));
    assertEquals("", until(120.6, 125));
  }

  @Test
  void anOutageIsNotReportedAsMissingMessages() {
    good();
    assertEquals("", watch.line(100));
    receive(Kind.BYTES, Kind.PACKETS); // after the last reading
    assertEquals("", watch.line(100.1));
    assertEquals(
        "link: nothing has arrived for 5 s: is the sender switched on, and does it send to this"
            + " machine?",
        until(100.2, 130));
    receive(Kind.BYTES, Kind.PACKETS); // before the first reading
    assertEquals("", watch.line(130.1));
    receive(Kind.BYTES, Kind.PACKETS, Kind.READINGS);
    assertEquals("link: data arrive again after 30.4 s", watch.line(130.4));
    good();
    assertEquals("", watch.line(130.5));
    assertEquals("", until(130.6, 135, Kind.BYTES, Kind.PACKETS, Kind.READINGS));
    String line = until(135.1, 137, Kind.BYTES, Kind.PACKETS, Kind.READINGS);
    assertTrue(line.contains("no SERVO_OUTPUT_RAW arrives"), line);
  }

  @Test
  void queuedRowsAreNotADeadLinkWhileTheyAreProcessed() {
    receive(Kind.READINGS);
    for (double t = 100; t < 120; t++) {
      watch.taken(t);
      assertEquals("", watch.line(t));
    }
    assertTrue(until(120, 126).contains("nothing has arrived"));
  }

  @Test
  void aSenderThatBeginsLateIsGivenTime() {
    assertTrue(until(100, 111).contains("nothing has arrived"));
    assertEquals("", until(111.1, 116, Kind.BYTES, Kind.PACKETS));
    String line = until(116.1, 118, Kind.BYTES, Kind.PACKETS);
    assertTrue(line.contains("packets arrive, but no BATTERY_STATUS"), line);
  }

  @Test
  void aWrongBaudRate() {
    assertEquals(
        "link: bytes arrive, but no MAVLink packet for 5 s: is the baud rate wrong?",
        until(100, 120, Kind.BYTES));
    watch = new LinkWatch(link, LogSources.DEFAULT, false, 100);
    assertTrue(until(100, 106, Kind.BYTES).contains("does the sender speak MAVLink?"));
  }

  @Test
  void packetsThatDoNotFeedTheEstimator() {
    String foreign = until(100, 106, Kind.BYTES, Kind.PACKETS, Kind.FOREIGN);
    assertTrue(foreign.contains("not from system 1 for 5 s"), foreign);
    watch = new LinkWatch(link, LogSources.DEFAULT, false, 100);
    good();
    assertEquals("", watch.line(100));
    String noBus = until(100.1, 106, Kind.BYTES, Kind.PACKETS, Kind.COMMANDS);
    assertTrue(noBus.contains("packets arrive, but no BATTERY_STATUS"), noBus);
  }

  @Test
  void aMissingThrottleIsReportedWhileReadingsArrive() {
    String line = until(100, 106, Kind.BYTES, Kind.PACKETS, Kind.READINGS);
    assertTrue(line.contains("no SERVO_OUTPUT_RAW arrives"), line);
    receive(Kind.COMMANDS, Kind.READINGS);
    assertTrue(watch.line(106.1).contains("resolved"));
  }

  @Test
  void unsignedPacketsAreReportedAndCounted() {
    String line = until(100, 106, Kind.BYTES, Kind.PACKETS, Kind.UNSIGNED);
    assertTrue(line.contains("all packets are refused because of their signatures: "), line);
    assertTrue(line.matches(".*: [0-9]+ without a signature, 0 signed with another key.*"), line);
    good();
    watch.line(106);
    receive(Kind.REPLAYED);
    good();
    String also = until(107, 110, Kind.READINGS, Kind.COMMANDS);
    assertTrue(also.contains("1 with an old time stamp"), also);
    assertTrue(watch.end(110).contains("packets refused: "), watch.end(110));
  }

  @Test
  void droppedRowsAreReported() {
    good();
    link.counts.add(Kind.DROPPED, 7);
    assertEquals(
        "link: data arrive faster than this machine can process them: 7 rows dropped so far",
        watch.line(100.1));
    link.counts.add(Kind.DROPPED, 5);
    good();
    assertEquals("", watch.line(101), "not every second");
    good();
    assertTrue(watch.line(110.2).contains("12 rows dropped so far"));
    assertEquals("link: 12 rows dropped; in 11 s", watch.end(111));
  }

  @Test
  void aDeviceThatDisappearsIsReportedAtOnce() {
    good();
    link.problem = "the device has disappeared";
    assertEquals(
        "link: the device has disappeared; it will be reopened when it is back", watch.line(101));
    assertEquals("", until(101.1, 103));
    link.problem = "";
    good();
    assertTrue(watch.line(103.5).contains("resolved"));
  }
}
