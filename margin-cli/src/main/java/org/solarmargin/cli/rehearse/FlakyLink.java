package org.solarmargin.cli.rehearse;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.PriorityQueue;
import java.util.Random;

/** A link that loses, duplicates and delays packets. */
final class FlakyLink {

  /** Receives the packets. */
  interface Sink {
    void send(byte[] bytes) throws IOException;
  }

  /**
   * Faults of the link.
   *
   * @param loss share of packets lost
   * @param duplicate share of packets duplicated
   * @param reorder largest delay, s
   * @param outages periods without transmission
   */
  record Faults(double loss, double duplicate, double reorder, List<Outage> outages) {}

  /**
   * A period without transmission.
   *
   * @param start time in the flight, s
   * @param seconds its length, s
   */
  record Outage(double start, double seconds) {
    boolean at(double time) {
      return time >= start && time - start < seconds;
    }
  }

  private static final class Due {
    private final double seconds;
    private final long number;
    private final byte[] bytes;

    Due(double seconds, long number, byte[] bytes) {
      this.seconds = seconds;
      this.number = number;
      this.bytes = bytes;
    }
  }

  private final Sink sink;
  private final Faults faults;
  private final Random random;
  private final PriorityQueue<Due> waiting =
      new PriorityQueue<>(
          (a, b) ->
              a.seconds == b.seconds
                  ? Long.compare(a.number, b.number)
                  : Double.compare(a.seconds, b.seconds));
  private long number;
  private long sent;

  FlakyLink(Sink sink, Faults faults, long seed) {
    this.sink = sink;
    this.faults = faults;
    random = new Random(seed);
  }

  /** Sends a packet at a time of the flight, s. */
  void send(double seconds, byte[] bytes) {
    boolean out = faults.outages().stream().anyMatch(outage -> outage.at(seconds));
    boolean lost = random.nextDouble() < faults.loss();
    int copies = random.nextDouble() < faults.duplicate() ? 2 : 1;
    if (!lost && !out) {
      for (int i = 0; i < copies; i++) {
        waiting.add(new Due(seconds + faults.reorder() * random.nextDouble(), number++, bytes));
      }
    }
    while (!waiting.isEmpty() && waiting.peek().seconds <= seconds) {
      pass();
    }
  }

  /** Delivers all packets that are still delayed. */
  void flush() {
    while (!waiting.isEmpty()) {
      pass();
    }
  }

  private void pass() {
    try {
      sink.send(waiting.remove().bytes);
      sent++;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  long sent() {
    return sent;
  }
}
