package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;

/**
 * Two million lines, replayed by a JVM with a heap of 8 MB: four bytes for each line would not fit,
 * so memory use does not grow with the log.
 */
class LongLogTest {

  private static final String HEAP = "-Xmx8m";

  @Test
  void twoMillionLinesFitIntoEightMegabytes() throws Exception {
    assertEquals("2000000 samples", replay(2_000_000));
  }

  /** The last line that the other JVM prints. */
  private static String replay(int lines) throws IOException, InterruptedException {
    String java = Path.of(System.getProperty("java.home"), "bin", "java").toString();
    Process process =
        new ProcessBuilder(
                java,
                HEAP,
                "-XX:+UseSerialGC",
                "-XX:+ExitOnOutOfMemoryError",
                "-cp",
                System.getProperty("java.class.path"),
                EndlessReplay.class.getName(),
                Integer.toString(lines))
            .redirectErrorStream(true)
            .start();
    String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    process.waitFor(1, TimeUnit.MINUTES);
    assertEquals(0, process.exitValue(), output);
    return output.strip();
  }
}
