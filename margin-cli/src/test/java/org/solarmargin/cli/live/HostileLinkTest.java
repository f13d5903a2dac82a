package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.common.SysStatus;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.SequenceInputStream;
import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.PacketWriter;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.profile.CraftProfile;

/** A flood of hostile packets neither grows memory nor reaches the estimator. */
class HostileLinkTest {

  private static final int PACKETS = 200_000;
  private static final long GROWTH_BYTES = 4 << 20;

  /**
   * A damaged frame has a correct 16-bit checksum by chance once in 65,536. Of about 80,000 frames
   * that end in another's bytes one or two pass, as on any link without signatures, and are left to
   * the gate. More than five in a flood have a probability of 0.2 % (Poisson, mean 1.2).
   */
  private static final int BY_CHANCE = 5;

  private final Random random = new Random(1);

  private final FlightPackets flight;
  private final byte[][] whole = new byte[251][];
  private final byte[][] others = new byte[251][];

  HostileLinkTest() throws IOException {
    flight = new FlightPackets();
    for (int i = 0; i < whole.length; i++) {
      whole[i] = flight.bus(i);
      others[i] = otherSystem(i);
    }
  }

  /** One packet of each hostile kind in turn. */
  private byte[] hostile(int number) {
    byte[] good = whole[number % whole.length].clone();
    switch (number % 5) {
      case 0 -> {
        byte[] bytes = new byte[random.nextInt(300)];
        random.nextBytes(bytes);
        return bytes;
      }
      case 1 -> {
        // at least two bytes are cut off, so that the checksum is missing
        return Arrays.copyOf(good, 1 + random.nextInt(good.length - 3));
      }
      case 2 -> {
        good[1] = (byte) 255; // claims a payload longer than the packet
        return good;
      }
      case 3 -> {
        good[12 + random.nextInt(good.length - 12)] ^= 0x10; // the checksum is wrong
        return good;
      }
      default -> {
        return others[number % others.length];
      }
    }
  }

  private static byte[] otherSystem(int number) {
    return new PacketWriter(2 + number % 250, 1, null)
        .packet(SysStatus.builder().voltageBattery(35_000).currentBattery(1).build());
  }

  private InputStream flood(int packets) {
    return new Parts(packets, number -> hostile((int) number));
  }

  private static long used() {
    System.gc();
    return Runtime.getRuntime().totalMemory() - Runtime.getRuntime().freeMemory();
  }

  @Test
  void aFloodIsSkippedAndAGoodPacketAfterItIsRead() throws Exception {
    CraftProfile craft = CraftProfile.read(Cli.STILT);
    LiveFeed feed = new LiveFeed(craft);
    flood(1000).readAllBytes();
    long before = used();
    // the end of a flood may look like the start of a packet of up to 280 bytes, so padding follows
    InputStream good =
        new SequenceInputStream(
            new ByteArrayInputStream(new byte[300]), new ByteArrayInputStream(flight.bus(0)));
    long after;
    try (RowSource link =
        Links.of(craft).stream(new SequenceInputStream(flood(PACKETS), good), "flood")) {
      Row last = null;
      int rows = 0;
      while (!link.ended()) {
        Row row = feed.await(link, 50);
        boolean read = row != null && !row.empty();
        last = read ? row : last;
        rows += read ? 1 : 0;
      }
      after = used();
      assertNotNull(last, "the good one");
      assertEquals(29, last.volts(), 1, "the good one");
      assertTrue(rows <= 1 + BY_CHANCE, rows + " rows of a flood");
      assertTrue(
          link.counts().of(LinkCounts.Kind.FOREIGN) > PACKETS / 6, "other systems are counted");
      assertEquals(0, link.counts().of(LinkCounts.Kind.DROPPED));
    }
    assertTrue(after - before < GROWTH_BYTES, "grew by " + (after - before) + " bytes");
  }
}
