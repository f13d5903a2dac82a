package org.solarmargin.core.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.ChannelTiming;

/** Readings that wait for those of the other channel: times in milliseconds. */
class ChannelTest {

  private static final long MS = 1_000_000L;

  private static Channel channel(double longest, double filter, double delay, double step) {
    Channel channel = new Channel(longest);
    channel.configure(new ChannelTiming(filter, delay, 0, step));
    return channel;
  }

  private static String content(Channel channel) {
    StringBuilder text = new StringBuilder();
    while (!channel.empty()) {
      text.append(channel.time() / MS).append(':').append(channel.value()).append(' ');
      channel.drop();
    }
    return text.toString().strip();
  }

  @Test
  void aReadingIsDatedBackByTheDelay() {
    Channel channel = channel(0.5, 0.06, 0.03, 0.6);
    assertTrue(channel.empty());
    assertEquals(Long.MAX_VALUE, channel.time());
    channel.put(100 * MS, 5);
    assertFalse(channel.empty());
    assertEquals(70 * MS, channel.time());
    assertEquals(30 * MS, channel.delayNanos());
    assertEquals(0.03, channel.roundingVariance(), 1e-15, "0.36 / 12");
    assertEquals(0.25, channel.fresh(0.02), 1e-15, "0.02 / (0.06 + 0.02)");
  }

  @Test
  void ofReadingsLessThanTwentyMillisecondsApartTheNewestIsKept() {
    Channel channel = channel(0.5, 0, 0, 0);
    channel.put(0, 1);
    channel.put(5 * MS, 2);
    channel.put(19 * MS, 3);
    assertEquals(
        "0:1.0 19:3.0", content(channel), "the last two are closer than 20 ms to the first");
    channel.put(0, 1);
    channel.put(5 * MS, 2);
    channel.put(20 * MS, 3);
    channel.put(40 * MS, 4);
    assertEquals("0:1.0 5:2.0 20:3.0 40:4.0", content(channel));
  }

  @Test
  void aReadingThatIsNoNewerReplacesTheNewest() {
    Channel channel = channel(0.5, 0, 0, 0);
    channel.put(100 * MS, 1);
    channel.put(100 * MS, 2);
    assertEquals("100:2.0", content(channel));
    channel.put(100 * MS, 1);
    channel.put(90 * MS, 3);
    assertEquals("100:3.0", content(channel), "and its instant does not go back");
  }

  /** A quarter of a second at two in each 20 ms, and three to spare. */
  @Test
  void theOldestGoesWhenItIsFull() {
    Channel channel = channel(0.25, 0, 0, 0);
    for (int i = 1; i <= 31; i++) {
      channel.put(20L * i * MS, i);
    }
    assertEquals(60 * MS, channel.time(), "29 of 31 are kept");
    assertEquals(3, channel.value());
    channel.dropUntil(100 * MS);
    assertEquals(120 * MS, channel.time());
    for (int i = 32; i <= 60; i++) {
      channel.put(20L * i * MS, i);
    }
    assertEquals(32 * 20 * MS, channel.time(), "round the ring");
    assertEquals(29, content(channel).split(" ").length);
    channel.dropUntil(1000 * MS);
    assertTrue(channel.empty());
  }

  @Test
  void resetForgetsReadings() {
    Channel channel = channel(0, 0, 0, 0);
    channel.put(0, 1);
    channel.put(20 * MS, 2);
    channel.drop();
    channel.reset();
    assertTrue(channel.empty());
    channel.put(10 * MS, 3);
    assertEquals("10:3.0", content(channel));
  }
}
