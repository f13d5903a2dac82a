package org.solarmargin.cli.file;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;

/** SHA-256 (FIPS 180-4), which every Java platform must provide. */
public final class Sha256 {

  /** Length of a digest, bytes. */
  public static final int BYTES = 32;

  private Sha256() {}

  /**
   * The digest of some bytes.
   *
   * @param bytes any
   * @return {@link #BYTES} bytes
   */
  public static byte[] of(byte[] bytes) {
    try {
      return MessageDigest.getInstance("SHA-256").digest(bytes);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform must provide SHA-256", e);
    }
  }
}
