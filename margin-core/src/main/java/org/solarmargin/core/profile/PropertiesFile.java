package org.solarmargin.core.profile;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Reads properties files in UTF-8, up to a maximum length. */
public final class PropertiesFile {

  /**
   * Longest file, bytes; a craft profile with every key and many comments has about ten thousand.
   */
  public static final int LONGEST = 1 << 16;

  /** Some editors begin every file with it. */
  private static final String BYTE_ORDER_MARK = "\ufeff";

  private PropertiesFile() {}

  /**
   * Reads a file.
   *
   * @param file the file; a device or pipe is also accepted
   * @return its text, without a byte order mark
   * @throws IOException if it cannot be read
   * @throws PropertiesException if it is a folder, longer than {@link #LONGEST} or not UTF-8
   */
  public static String read(Path file) throws IOException {
    if (Files.isDirectory(file)) {
      throw fault(file, "is a folder: name the .properties file");
    }
    byte[] bytes;
    try (InputStream in = Files.newInputStream(file)) {
      bytes = in.readNBytes(LONGEST + 1);
    }
    if (bytes.length > LONGEST) {
      throw fault(file, "is longer than " + LONGEST + " bytes: no .properties file of this kind");
    }
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
      return text.startsWith(BYTE_ORDER_MARK) ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw fault(file, "not UTF-8 text: save it as UTF-8");
    }
  }

  private static PropertiesException fault(Path file, String rule) {
    return new PropertiesException(List.of(file + ": " + rule));
  }
}
