package org.solarmargin.cli.file;

import java.util.Optional;

/** The kind of a file, determined from its first bytes, where it is not text. */
public enum FileKind {
  /** A flight log in the openly documented ULog format. */
  ULOG("a ULog flight log", "ULog\u0001\u00125"),
  /** A ZIP archive, a spreadsheet among them. */
  ZIP("a ZIP archive or a spreadsheet", "PK\u0003\u0004"),
  /** Compressed by gzip. */
  GZIP("compressed by gzip", "\u001f\u008b"),
  /** A PDF document. */
  PDF("a PDF document", "%PDF"),
  /** A PNG picture. */
  PNG("a PNG picture", "\u0089PNG"),
  /** A JPEG picture. */
  JPEG("a JPEG picture", "\u00ff\u00d8\u00ff"),
  /** A database file. */
  SQLITE("an SQLite database", "SQLite format 3"),
  /** A MAVLink telemetry log: packets behind time stamps of eight bytes. */
  MAVLINK("a MAVLink telemetry log", ""),
  /** UTF-16 text. */
  UTF16("text in UTF-16", ""),
  /** Other content that is not text. */
  BINARY("binary data", "");

  /** Number of first bytes that are examined. */
  public static final int PEEKED = 512;

  private static final int STAMP_BYTES = 8;
  private static final int MAVLINK_1 = 0xfe;
  private static final int MAVLINK_2 = 0xfd;

  private final String description;
  private final String magic;

  FileKind(String description, String magic) {
    this.description = description;
    this.magic = magic;
  }

  /**
   * The kind, human-readable.
   *
   * @return a noun phrase with its article
   */
  public String description() {
    return description;
  }

  /**
   * Determines the kind from the first bytes of a file.
   *
   * @param head up to {@link #PEEKED} bytes
   * @return empty for text
   */
  public static Optional<FileKind> of(byte[] head) {
    for (FileKind kind : values()) {
      if (!kind.magic.isEmpty() && startsWith(head, kind.magic)) {
        return Optional.of(kind);
      }
    }
    if (head.length > 1 && (at(head, 0) == 0xff || at(head, 0) == 0xfe) && at(head, 1) >= 0xfe) {
      return Optional.of(UTF16);
    }
    boolean packet =
        head.length > STAMP_BYTES
            && at(head, 0) == 0
            && (at(head, STAMP_BYTES) == MAVLINK_1 || at(head, STAMP_BYTES) == MAVLINK_2);
    if (packet) {
      return Optional.of(MAVLINK);
    }
    for (byte one : head) {
      if (one == 0) {
        return Optional.of(BINARY);
      }
    }
    return Optional.empty();
  }

  private static int at(byte[] bytes, int place) {
    return bytes[place] & 0xff;
  }

  private static boolean startsWith(byte[] head, String magic) {
    for (int i = 0; i < magic.length(); i++) {
      if (i >= head.length || at(head, i) != magic.charAt(i)) {
        return false;
      }
    }
    return true;
  }
}
