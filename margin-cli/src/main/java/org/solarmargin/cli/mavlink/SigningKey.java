package org.solarmargin.cli.mavlink;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.util.HexFormat;
import java.util.Set;
import org.solarmargin.cli.file.InputFault;

/**
 * The secret that both ends of a link share (MAVLink 2, message signing): a signature is the first
 * 48 bits of the SHA-256 over key, packet, link and time stamp.
 */
public final class SigningKey {

  /** Length of a key, bytes. */
  static final int BYTES = 32;

  private static final int LONGEST_FILE = 1024;

  /** 2015-01-01 UTC, the epoch of signature time stamps, ms since 1970. */
  private static final long EPOCH_MILLIS = 1_420_070_400_000L;

  private static final long UNITS_PER_MILLI = 100;

  private final byte[] key;
  private final boolean readableByOthers;

  private SigningKey(byte[] key, boolean readableByOthers) {
    this.key = key;
    this.readableByOthers = readableByOthers;
  }

  /**
   * Reads a key.
   *
   * @param file 32 bytes, or 64 hexadecimal digits
   * @return the key
   * @throws InputFault if there is no such file or it has another length
   */
  public static SigningKey read(Path file) {
    try {
      byte[] bytes = Files.size(file) > LONGEST_FILE ? new byte[0] : Files.readAllBytes(file);
      String text = new String(bytes, StandardCharsets.ISO_8859_1).strip();
      if (bytes.length != BYTES && text.matches("[0-9a-fA-F]{64}")) {
        bytes = HexFormat.of().parseHex(text);
      }
      if (bytes.length != BYTES) {
        throw new InputFault(
            file
                + ": a key must have 32 bytes or 64 hexadecimal digits: the file has another"
                + " length");
      }
      return new SigningKey(bytes, readableByOthers(file));
    } catch (IOException e) {
      throw new InputFault(file + ": the key cannot be read: " + e.getMessage());
    }
  }

  private static boolean readableByOthers(Path file) throws IOException {
    try {
      Set<PosixFilePermission> may = Files.getPosixFilePermissions(file);
      return may.contains(PosixFilePermission.GROUP_READ)
          || may.contains(PosixFilePermission.OTHERS_READ);
    } catch (UnsupportedOperationException e) {
      return false; // the system has no such permissions
    }
  }

  /**
   * Whether users other than its owner may read the file.
   *
   * @return true if so
   */
  public boolean readableByOthers() {
    return readableByOthers;
  }

  byte[] bytes() {
    return key.clone();
  }

  /** Current time in the units of signatures, 10 us since 2015. */
  static long now() {
    return (System.currentTimeMillis() - EPOCH_MILLIS) * UNITS_PER_MILLI;
  }
}
