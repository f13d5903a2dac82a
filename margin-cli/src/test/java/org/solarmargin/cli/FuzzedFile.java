package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.profile.PropertiesException;

/**
 * Passes arbitrary bytes to a reader as a file: it must read them or refuse them with a clear
 * message.
 */
public final class FuzzedFile {

  private FuzzedFile() {}

  /** Reads the file. */
  public interface Reader {
    /**
     * Reads the file.
     *
     * @param file file with the bytes
     */
    void read(Path file) throws IOException;
  }

  /**
   * Passes bytes to a reader.
   *
   * @param bytes any
   * @param reader reader of the file
   */
  public static void read(byte[] bytes, Reader reader) throws IOException {
    Path file = Files.createTempFile("fuzzed", ".txt");
    try {
      Files.write(file, bytes);
      reader.read(file);
    } catch (InputFault | PropertiesException e) {
      String message = e.getMessage();
      assertTrue(message.contains(file.getFileName().toString()), message);
      boolean control = message.chars().anyMatch(c -> Character.isISOControl(c) && c != '\n');
      assertFalse(control, message);
    } finally {
      Files.deleteIfExists(file);
    }
  }
}
