package org.solarmargin.cli;

import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.Optional;
import org.solarmargin.cli.file.OutputFault;

/** A stream that remembers why it could not be written. */
final class StandardOutput extends FilterOutputStream {

  private static final Path NAME = Path.of("standard output");

  private OutputFault fault;

  StandardOutput(OutputStream out) {
    super(out);
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
      fault = new OutputFault(NAME, e, "what was already written remains");
      throw e;
    }
  }

  /** The last fault; empty if there was none, or if only the reader of a pipe has gone. */
  Optional<OutputFault> fault() {
    return Optional.ofNullable(fault).filter(f -> !f.getMessage().contains("Broken pipe"));
  }
}
