package org.solarmargin.core.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** Commands that wait until they act: times in milliseconds. */
class CommandQueueTest {

  private static final long MS = 1_000_000L;
  private static final long FAR = 1_000_000_000_000L;

  private static CommandQueue queue(double lag, double delay) {
    CommandQueue queue = new CommandQueue(0.5);
    queue.configure(
        new TimeModel(
            ChannelTiming.IMMEDIATE,
            ChannelTiming.IMMEDIATE,
            lag,
            delay,
            true,
            TimeModel.Source.STATED));
    return queue;
  }

  private static String content(CommandQueue queue) {
    StringBuilder text = new StringBuilder();
    while (queue.due(FAR)) {
      text.append(queue.time() / MS).append(':').append(queue.value()).append(' ');
      queue.drop();
    }
    return text.toString().strip();
  }

  @Test
  void aCommandActsAfterItsDelayToATenthOfAMillisecond() {
    CommandQueue queue = queue(0, 0.05);
    assertFalse(queue.due(FAR));
    queue.put(100 * MS, 0.5);
    assertFalse(queue.due(150 * MS - 400_001L));
    assertTrue(queue.due(150 * MS - 400_000L));
    assertEquals("150:0.5", content(queue));
  }

  @Test
  void aCommandThatChangesNothingIsNone() {
    CommandQueue queue = queue(0, 0);
    queue.put(0, 0.5);
    queue.put(20 * MS, 0.5);
    queue.put(40 * MS, 0.6);
    queue.put(60 * MS, 0.5);
    assertEquals("0:0.5 40:0.6 60:0.5", content(queue));
    queue.put(80 * MS, 0.5);
    assertEquals("", content(queue), "taken out or not");
    queue.reset();
    queue.put(100 * MS, 0.5);
    assertEquals("100:0.5", content(queue), "the first after a reset");
  }

  @Test
  void ofCommandsLessThanTenMillisecondsApartTheNewestIsKept() {
    CommandQueue queue = queue(0, 0);
    queue.put(0, 0.1);
    queue.put(9 * MS, 0.2);
    assertEquals("0:0.1 9:0.2", content(queue), "two are never crowded");
    queue.put(20 * MS, 0.3);
    queue.put(30 * MS, 0.4);
    queue.put(39 * MS, 0.5);
    queue.put(40 * MS, 0.6);
    assertEquals("20:0.3 30:0.5 40:0.6", content(queue));
  }

  @Test
  void aCommandOfTheSameInstantReplacesTheLast() {
    CommandQueue queue = queue(0, 0);
    queue.put(20 * MS, 0.3);
    queue.put(20 * MS, 0.4);
    queue.put(10 * MS, 0.5);
    assertEquals("20:0.5", content(queue));
  }

  /** A lag of 60 ms and steps of 20 ms: 20 / 80 of the way to the command at each. */
  @Test
  void motorsFollowWithTheirLag() {
    CommandQueue queue = queue(0.06, 0);
    queue.put(0, 0.4);
    queue.put(20 * MS, 0.8);
    queue.put(40 * MS, 0.8);
    assertEquals("0:0.4 20:0.5", content(queue).substring(0, 12));
    queue.reset();
    queue.put(0, 0.4);
    queue.put(20 * MS, 0.8);
    queue.drop();
    assertEquals(0.5, queue.value(), 1e-15);
    queue.put(40 * MS, 0.8);
    queue.drop();
    assertEquals(0.575, queue.value(), 1e-15);
    queue.put(30 * MS, 0.4);
    queue.put(50 * MS, 0.475);
    queue.drop();
    assertEquals(0.55, queue.value(), 1e-15, "no time passes backward: 0.575 to 0.475 in 20 ms");
  }

  /** Half a second in steps of 10 ms, and two to spare. */
  @Test
  void theOldestGoesWhenItIsFull() {
    CommandQueue queue = queue(0, 0.5);
    for (int i = 1; i <= 60; i++) {
      queue.put(10L * i * MS, i);
    }
    assertEquals(9, queue.value(), "52 of 60 are kept");
    assertEquals(590 * MS, queue.time());
    queue.drop();
    assertEquals(10, queue.value());
    for (int i = 61; i <= 120; i++) {
      queue.put(10L * i * MS, i);
    }
    assertEquals(69, queue.value());
    assertEquals(52, content(queue).split(" ").length);
  }

  @Test
  void theShareOfAStep() {
    assertEquals(1, CommandQueue.share(0.02, 0));
    assertEquals(0.25, CommandQueue.share(0.02, 0.06), 1e-15);
    assertEquals(0.25, CommandQueue.share(2, 6), 1e-15);
    assertEquals(2, CommandQueue.lagged(1, 5, 0.25), 1e-15);
    assertEquals(5, CommandQueue.lagged(Double.NaN, 5, 1), "the whole of it");
  }
}
