package org.solarmargin.cli.fit;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FuzzedFile;
import org.solarmargin.cli.Mutants;
import org.solarmargin.cli.fit.rotor.Stand;

/** Any bytes as a thrust stand's table: a stand, or a refusal with a clear message. */
class StandFuzzTest {

  static Stream<byte[]> stands() throws IOException {
    return Mutants.of(List.of(Files.readAllBytes(Cli.EXAMPLES.resolve("bench/rotor-stand.csv"))));
  }

  @MethodSource("stands")
  @FuzzTest(maxDuration = "4s")
  void stand(byte[] bytes) throws IOException {
    FuzzedFile.read(bytes, Stand::read);
  }
}
