package org.solarmargin.cli.log;

import java.io.BufferedInputStream;
import java.io.Closeable;
import java.io.DataInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * Reads the messages of a ULog file one after another. After a header of 16 bytes each message has
 * two bytes of length, one of type, and its content, all little-endian. A truncated file ends with
 * its last complete message.
 */
final class UlogFile implements Closeable {

  private static final int HEADER_BYTES = 16;

  private final DataInputStream in;
  private char type;
  private ByteBuffer content = ByteBuffer.allocate(0);

  UlogFile(Path file) throws IOException {
    InputStream bytes = new BufferedInputStream(Files.newInputStream(file), 1 << 16);
    in = new DataInputStream(bytes);
    in.readNBytes(HEADER_BYTES);
  }

  /** Moves to the next message; false at the end. */
  boolean next() throws IOException {
    try {
      int length = Short.toUnsignedInt(Short.reverseBytes(in.readShort()));
      type = (char) in.readUnsignedByte();
      byte[] bytes = new byte[length];
      in.readFully(bytes);
      content = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
      return true;
    } catch (EOFException e) {
      return false;
    }
  }

  char type() {
    return type;
  }

  /** Content of the message, little-endian. */
  ByteBuffer content() {
    return content;
  }

  /** The content as text from an offset. */
  String text(int from) {
    int start = Math.min(from, content.limit());
    return new String(content.array(), start, content.limit() - start, StandardCharsets.UTF_8);
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
