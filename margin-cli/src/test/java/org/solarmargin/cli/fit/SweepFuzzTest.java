package org.solarmargin.cli.fit;

import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FuzzedFile;
import org.solarmargin.cli.Mutants;
import org.solarmargin.cli.fit.sweep.PublishedCurvesTest;
import org.solarmargin.cli.fit.sweep.Sweep;

/** Any bytes as a sweep: finite points, or a refusal with a clear message. */
class SweepFuzzTest {

  static Stream<byte[]> sweeps() throws IOException {
    return Mutants.of(
        List.of(
            Files.readAllBytes(Cli.EXAMPLES.resolve("bench/array-sweep.csv")),
            Files.readAllBytes(PublishedCurvesTest.TABLES.resolve("pwp201-45c.csv"))));
  }

  @MethodSource("sweeps")
  @FuzzTest(maxDuration = "4s")
  void sweep(byte[] bytes) throws IOException {
    FuzzedFile.read(
        bytes,
        file -> {
          Sweep sweep = Sweep.read(file, 48, 1, 910, 41);
          for (int i = 0; i < sweep.size(); i++) {
            assertTrue(Double.isFinite(sweep.volts(i)) && Double.isFinite(sweep.amps(i)));
          }
        });
  }
}
