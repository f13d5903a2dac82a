package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.file.InputFault;

/** How a log states when it was flown. */
class LogStartTest {

  @TempDir private Path folder;

  private Path log(String text) throws IOException {
    return Files.writeString(folder.resolve("log.csv"), text);
  }

  @ParameterizedTest
  @CsvSource({
    "time_s, 1782043200.5, 2026-06-21T12:00:00.500Z",
    "t, 1782043200500, 2026-06-21T12:00:00.500Z",
    "t, 2026-06-21T14:00:00+02:00, 2026-06-21T12:00:00Z",
    "time_s, 12.5, ",
    "t, 12:00:00, "
  })
  void timesThatAreInstantsStateTheStart(String header, String time, Instant start)
      throws IOException {
    Path log = log(header + ",bus_v,bus_a,throttle\n" + time + ",29,3,0.5\n");
    ColumnMap columns = new ColumnMap(header.equals("t") ? List.of("time_s=t") : List.<String>of());
    try (LogReader reader = new LogReader(log, columns)) {
      reader.next();
      assertEquals(Optional.ofNullable(start), reader.startInstant());
    }
  }

  @Test
  void aCommentStatesTheStartAboveOrBelowTheHeader() throws IOException {
    Instant noon = Instant.parse("2026-06-21T12:00:00Z");
    String header = "time_s,bus_v,bus_a,throttle\n";
    assertEquals(Optional.of(noon), LogStart.of(log(LogStart.comment(noon) + header)));
    assertEquals(
        Optional.of(noon), LogStart.of(log(header + "# start = 2026-06-21T14:00+02:00\n")));
    assertEquals(Optional.empty(), LogStart.of(log("# a start of something\n" + header)));
    Path wrong = log("# start: this morning\n" + header);
    assertThrows(InputFault.class, () -> LogStart.of(wrong));
  }
}
