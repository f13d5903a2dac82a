package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.profile.PropertiesException;

/** Shows a reader any bytes as a file: it reads them or refuses them in clear words. */
public final class FuzzedFile {

  private FuzzedFile() {}

  /** What reads the file. */
  public interface Reader {
    /**
     * Reads.
     *
     * @param file with the bytes
     */
    void read(Path file) throws IOException;
  }

  /**
   * Reads bytes.
   *
   * @param bytes any
   * @param reader of the file
   */
  public static void read(byte[] bytes, Reader reader) throws IOException {
    Path file = Files.createTempFile("fuzzed", ".txt");
    try {
      Files.write(file, bytes);
      reader.read(file);
    } catch (InputFault | PropertiesException e) {
      String said = e.getMessage();
      assertTrue(said.contains(file.getFileName().toString()), said);
      boolean control = said.chars().anyMatch(c -> Character.isISOControl(c) && c != '\n');
      assertFalse(control, said);
    } finally {
      Files.deleteIfExists(file);
    }
  }
}
