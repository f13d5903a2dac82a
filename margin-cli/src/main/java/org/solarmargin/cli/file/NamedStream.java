package org.solarmargin.cli.file;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.Optional;

/**
 * A stream that adds the name of the output to a write error, which the system's message leaves
 * out, and remembers the error for writers that do not report any.
 */
public final class NamedStream extends FilterOutputStream {

  /** What becomes of an output that is written to directly. */
  public static final String PART_REMAINS = "what was already written remains";

  private final Path name;
  private final String consequence;
  private OutputFault fault;

  /**
   * A stream to an output.
   *
   * @param out the output
   * @param name the output as the user named it
   * @param consequence what becomes of it if it cannot be written
   */
  public NamedStream(OutputStream out, Path name, String consequence) {
    super(out);
    this.name = name;
    this.consequence = consequence;
  }

  @Override
  public void write(int one) throws IOException {
    write(new byte[] {(byte) one}, 0, 1);
  }

  @Override
  public void write(byte[] bytes, int from, int length) throws IOException {
    try {
      out.write(bytes, from, length);
    } catch (IOException e) {
      throw faultOf(e);
    }
  }

  @Override
  public void close() throws IOException {
    try {
      out.close();
    } catch (IOException e) {
      throw faultOf(e);
    }
  }

  private OutputFault faultOf(IOException cause) {
    fault = new OutputFault(name, cause, consequence);
    return fault;
  }

  /**
   * The last error of writing or closing.
   *
   * @return empty if there was none
   */
  public Optional<OutputFault> fault() {
    return Optional.ofNullable(fault);
  }
}
