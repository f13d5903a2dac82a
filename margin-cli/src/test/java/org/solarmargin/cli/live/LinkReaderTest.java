package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;

import io.dronefleet.mavlink.common.SysStatus;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.TreeMap;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.PacketWriter;
import org.solarmargin.core.profile.LogSources;

/** Whose packets a link hears. */
class LinkReaderTest {

  private static final SysStatus STATUS =
      SysStatus.builder().voltageBattery(29_500).currentBattery(285).build();

  private final LinkCounts counts = new LinkCounts();

  /** A packet each of systems 1 and 2, components 1 and 191; how many become rows. */
  private int heard(int system, int component) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    for (int from : new int[] {1, 2}) {
      for (int part : new int[] {1, 191}) {
        bytes.writeBytes(new PacketWriter(from, part, null).packet(STATUS));
      }
    }
    LogSources sources =
        new LogSources(
            new TreeMap<>(),
            LogSources.Bus.SYS_STATUS,
            LogSources.Throttle.SERVO_OUTPUT_RAW,
            1,
            system,
            component);
    int rows = 0;
    try (LinkReader reader =
        new LinkReader(
            new ByteArrayInputStream(bytes.toByteArray()),
            new MessageRows(sources, 4),
            sources,
            null,
            counts)) {
      while (reader.next() != null) {
        rows++;
      }
      assertNull(reader.next(), "at the end");
      assertEquals("", reader.problem());
    }
    return rows;
  }

  @ParameterizedTest
  @CsvSource({"0, 0, 4", "1, 0, 2", "2, 0, 2", "3, 0, 0", "0, 191, 2", "1, 191, 1", "2, 7, 0"})
  void othersAreCountedAndNotHeard(int system, int component, int rows) throws IOException {
    assertEquals(rows, heard(system, component));
    assertEquals(4, counts.of(LinkCounts.Kind.PACKETS));
    assertEquals(4 - rows, counts.of(LinkCounts.Kind.FOREIGN));
  }
}
