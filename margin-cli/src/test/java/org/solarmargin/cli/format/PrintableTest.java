package org.solarmargin.cli.format;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.file.OutputFault;

/** Text from elsewhere, before it is shown; and why an output cannot be written, in words. */
class PrintableTest {

  /**
   * Ends and both neighbours of what steers: control characters (C0, DEL and C1), the Unicode line
   * separators, and the marks that turn the direction of text (Unicode Standard Annex 9).
   */
  @ParameterizedTest
  @ValueSource(
      ints = {
        0x00, 0x07, 0x0a, 0x1b, 0x1f, 0x7f, 0x80, 0x9b, 0x9f, 0x061c, 0x200e, 0x200f, 0x2028,
        0x2029, 0x202a, 0x202e, 0x2066, 0x2069
      })
  void whatSteersIsReplaced(int code) {
    assertEquals("a?b", Printable.of("a" + (char) code + "b"));
  }

  @ParameterizedTest
  @ValueSource(
      ints = {
        0x20, 0x7e, 0xa0, 0x061b, 0x061d, 0x200d, 0x2010, 0x2027, 0x202f, 0x2065, 0x206a, 0x20ac
      })
  void itsNeighboursStay(int code) {
    String text = "a" + (char) code + "b";
    assertEquals(text, Printable.of(text));
  }

  @Test
  void longTextIsCutAndSaysSo() {
    assertEquals("12345", Printable.brief("12345", 5));
    assertEquals("12345...", Printable.brief("123456", 5));
    assertEquals("1?345...", Printable.brief("1\n3456", 5));
  }

  private static String why(IOException cause) {
    return new OutputFault(Path.of("out.csv"), cause, "what was there before is kept").getMessage();
  }

  @Test
  void anOutputThatCannotBeWrittenSaysWhyAndWhatIsLeft() {
    String kept = ": what was there before is kept";
    assertEquals(
        "out.csv: cannot be written: Permission denied" + kept,
        why(new AccessDeniedException("/root/out.csv")));
    assertEquals(
        "out.csv: cannot be written: No space left on device" + kept,
        why(new FileSystemException("out.csv", null, "No space left on device")));
    assertEquals(
        "out.csv: cannot be written: out.csv" + kept, why(new FileSystemException("out.csv")));
    assertEquals(
        "out.csv: cannot be written: broken pipe" + kept, why(new IOException("broken pipe")));
    assertEquals("out.csv: cannot be written: java.io.IOException" + kept, why(new IOException()));
  }
}
