package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.Closeable;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Assumptions;

/**
 * A serial line: a pair of pseudo-terminals, with the symbolic links {@code near} and {@code far}
 * to its ends.
 */
final class Pty implements Closeable {

  private static final Path SOCAT = Path.of("/usr/bin/socat");

  final Path near;
  final Path far;
  private final Process socat;

  Pty(Path folder) throws IOException, InterruptedException {
    Assumptions.assumeTrue(Files.isExecutable(SOCAT), SOCAT + " is not installed");
    near = folder.resolve("near");
    far = folder.resolve("far");
    socat =
        new ProcessBuilder(
                SOCAT.toString(), "pty,raw,echo=0,link=" + near, "pty,raw,echo=0,link=" + far)
            .start();
    for (int i = 0; i < 250 && !(Files.exists(near) && Files.exists(far)); i++) {
      Thread.sleep(20);
    }
    assertTrue(Files.exists(far), "socat makes no pair of terminals");
  }

  @Override
  public void close() throws IOException {
    socat.destroy();
    try {
      socat.waitFor();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
