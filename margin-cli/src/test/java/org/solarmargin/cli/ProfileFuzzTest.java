package org.solarmargin.cli;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.file.Files;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Any bytes as a profile: a craft to monitor, or a refusal with a clear message. */
class ProfileFuzzTest {

  static Stream<byte[]> profiles() throws IOException {
    return Mutants.of(List.of(Files.readAllBytes(Cli.STILT)));
  }

  @MethodSource("profiles")
  @FuzzTest(maxDuration = "4s")
  void profile(byte[] bytes) throws IOException {
    FuzzedFile.read(
        bytes,
        file -> {
          CraftProfile craft = Inputs.profile(file);
          new MarginMonitor(craft.settings(), craft.rules(), (t, l, r, why, m, z) -> {})
              .update(1, 20, 3, 0.5);
        });
  }
}
