package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FuzzedFile;
import org.solarmargin.cli.Mutants;

/** Any bytes as a flight log: rows in the order of the lines, or a refusal with a clear message. */
class LogFuzzTest {

  private static final int ROWS = 30;

  static Stream<byte[]> logs() throws IOException {
    Path flight = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
    String csv = String.join("\n", Files.readAllLines(flight).subList(0, ROWS));
    String european = csv.replace(',', ';').replace('.', ',');
    return Mutants.of(
        List.of(
            csv.getBytes(StandardCharsets.UTF_8),
            european.getBytes(StandardCharsets.UTF_8),
            "time [ms],bus_v (mV),bus_a [cA],throttle [%],event\n0,29000,310,40,\"a, b\"\n20,,nan,41,\n"
                .getBytes(StandardCharsets.UTF_8)));
  }

  @MethodSource("logs")
  @FuzzTest(maxDuration = "4s")
  void log(byte[] bytes) throws IOException {
    FuzzedFile.read(bytes, LogFuzzTest::readAll);
  }

  private static void readAll(Path file) throws IOException {
    try (LogReader reader = new LogReader(file, new ColumnMap(List.of()))) {
      long last = 0;
      while (reader.next()) {
        // absent (NaN) and infinite values are left to the gate
        for (Column column : Column.values()) {
          reader.value(column);
        }
        assertTrue(reader.line() > last, "line " + reader.line() + " after " + last);
        last = reader.line();
      }
      reader.faults();
      reader.notes();
    }
  }
}
