package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

/** Text that standard output does not take is reported, because a writer hides it. */
class StandardOutputTest {

  private final StringWriter err = new StringWriter();

  private int help(OutputStream out, String verb) {
    return Main.run(new String[] {verb, "--help"}, out, new PrintWriter(err, true));
  }

  private static OutputStream failing(String message) {
    return new OutputStream() {
      @Override
      public void write(int one) throws IOException {
        throw new IOException(message);
      }
    };
  }

  @Test
  void aFullDiskIsStatusOneAndOneLine() {
    assertEquals(1, help(failing("No space left on device"), "replay"));
    assertEquals(
        "standard output: cannot be written: No space left on device: what was already written"
            + " remains"
            + System.lineSeparator(),
        err.toString());
  }

  @Test
  void aReaderThatHasSeenEnoughIsNoFault() {
    assertEquals(0, help(failing("Broken pipe"), "replay"));
    assertEquals("", err.toString());
  }

  @Test
  void aHigherStatusIsKept() {
    int status =
        Main.run(new String[] {}, failing("No space left on device"), new PrintWriter(err, true));
    assertEquals(2, status);
  }

  @Test
  void aStreamThatTakesTheTextIsNoFault() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    assertEquals(0, help(out, "replay"));
    assertEquals("Usage: margin replay", out.toString(StandardCharsets.UTF_8).substring(0, 20));
    assertEquals("", err.toString());
  }
}
