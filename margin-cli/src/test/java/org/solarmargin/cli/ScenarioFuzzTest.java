package org.solarmargin.cli;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.core.profile.CraftProfile;

/** Any bytes as a scenario: flights to make, or a refusal with a clear message. */
class ScenarioFuzzTest {

  private static final CraftProfile CRAFT = Inputs.profile(Cli.STILT);

  static Stream<byte[]> scenarios() throws IOException {
    List<byte[]> scenarios = new ArrayList<>();
    try (var files = Files.list(Cli.EXAMPLES.resolve("scenarios"))) {
      for (Path file : files.filter(f -> f.toString().endsWith(".properties")).sorted().toList()) {
        scenarios.add(Files.readAllBytes(file));
      }
    }
    return Mutants.of(scenarios);
  }

  @MethodSource("scenarios")
  @FuzzTest(maxDuration = "4s")
  void scenario(byte[] bytes) throws IOException {
    FuzzedFile.read(
        bytes, file -> Inputs.maker(file, Inputs.scenario(file, CRAFT), CRAFT).asStated(1));
  }
}
