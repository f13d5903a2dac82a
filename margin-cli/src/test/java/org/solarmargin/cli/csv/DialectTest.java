package org.solarmargin.cli.csv;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import de.siegmar.fastcsv.reader.CsvParseException;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.file.FileKind;
import org.solarmargin.cli.file.InputFault;

/** Separators and decimal marks brought to one form, and tables that are none. */
class DialectTest {

  @TempDir private Path folder;

  private static InputStream open(String text) throws IOException {
    return Dialect.of(new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8)));
  }

  /** In blocks, and byte by byte. */
  private static String read(String text) throws IOException {
    String whole = new String(open(text).readAllBytes(), StandardCharsets.UTF_8);
    StringBuilder single = new StringBuilder();
    try (InputStream in = open(text)) {
      for (int one = in.read(); one >= 0; one = in.read()) {
        single.append((char) one);
      }
    }
    assertEquals(whole, single.toString());
    return whole;
  }

  @Test
  void semicolonsAndTabsBecomeCommasAndDecimalCommasPoints() throws IOException {
    assertEquals("a,b\n1.5,2\n", read("a;b\n1,5;2\n"));
    assertEquals("a,b\r\n1.5,2\r\n", read("a\tb\r\n1,5\t2\r\n"));
    assertEquals("a,b;c\n1,5;2\n", read("a,b;c\n1,5;2\n"), "as many of either: commas");
  }

  @Test
  void quotedTextStaysAsItIs() throws IOException {
    assertEquals("a,\"b;c,d\",e\n1,\"2,5\",3.5\n", read("a;\"b;c,d\";e\n1;\"2,5\";3,5\n"));
    assertEquals("a,\"b\n1.5,2\n", read("a;\"b\n1,5;2\n"), "a quote ends with its line");
  }

  @Test
  void theFirstLineThatIsNoCommentTells() throws IOException {
    assertEquals("# x,y,z,\n\n \na,b\n1.5,2", read("# x;y;z;\n\n \na;b\n1,5;2"));
    assertEquals("", read(""));
    assertEquals("fields separated by semicolons, a comma is a decimal mark", words("a;b\n"));
    assertEquals("fields separated by tabs, a comma is a decimal mark", words("a\tb\n"));
    assertEquals("", words("a,b\n"));
  }

  private static String words(String text) throws IOException {
    return Dialect.description(open(text));
  }

  /** What is skipped may open a quote. */
  @Test
  void skippingReadsOn() throws IOException {
    try (InputStream in = open("a;b\n\"1;2\";3,5\n")) {
      assertEquals(6, in.skip(6));
      assertEquals(";2\",3.5\n", new String(in.readAllBytes(), StandardCharsets.UTF_8));
      assertEquals(0, in.skip(6));
      assertTrue(!in.markSupported());
    }
  }

  /** First bytes by the formats' documentation. */
  @ParameterizedTest
  @CsvSource({
    "UTF16, ff fe 61 00",
    "UTF16, fe ff 00 61",
    "ZIP, 50 4b 03 04",
    "GZIP, 1f 8b 08",
    "PDF, 25 50 44 46 2d",
    "PNG, 89 50 4e 47 0d",
    "JPEG, ff d8 ff e0",
    "ULOG, 55 4c 6f 67 01 12 35 01",
    "MAVLINK, 00 06 54 bb 00 00 00 00 fd",
    "MAVLINK, 00 06 54 bb 00 00 00 00 fe",
    "BINARY, 00 06 54 bb 00 00 00 00 fc",
    "BINARY, 61 00",
    "'', 61 2c 62",
    "'', ff",
    "'', ff 61",
    "'', 50 4b 03"
  })
  void aFileIsToldByItsFirstBytes(String kind, String bytes) {
    String[] parts = bytes.split(" ", -1);
    byte[] head = new byte[parts.length];
    for (int i = 0; i < head.length; i++) {
      head[i] = (byte) Integer.parseInt(parts[i], 16);
    }
    assertEquals(kind, FileKind.of(head).map(Enum::name).orElse(""));
  }

  private String refusal(String text) throws IOException {
    Path file = Files.writeString(folder.resolve("t.csv"), text);
    InputFault fault =
        assertThrows(
            InputFault.class,
            () -> NumberTable.readEither(file, List.of("x"), List.of("y", "z"), List.of("w")));
    return fault.getMessage().replace(file.toString(), "t.csv");
  }

  @Test
  void aTableIsRefusedWithLineRuleAndValue() throws IOException {
    String last = ": correct or remove the line";
    assertEquals("t.csv: empty: a header line is needed", refusal(""));
    assertEquals("t.csv line 2: no column y: the header has x; rename it", refusal("# c\nx\n1\n"));
    assertEquals("t.csv: has both y and z: give one of them", refusal("x,y,z\n1,2,3\n"));
    assertEquals("t.csv line 3: y must be a number: 2x5" + last, refusal("x,y\n1,2\n1,2x5\n"));
    assertEquals("t.csv line 2: y must be a finite number: " + last, refusal("x,y\n1,\n"));
    assertEquals("t.csv line 2: y must be a finite number: " + last, refusal("x,y\n1\n"));
    assertEquals(
        "t.csv line 2: y must be a finite number: 1e999" + last, refusal("x,y\n1,1e999\n"));
    assertEquals(
        "t.csv line 2: w must be a finite number: NaN" + last, refusal("x,y,w\n1,2,NaN\n"));
    assertEquals(
        "t.csv: has more than 5000 rows, the most that are read: thin it out or divide it",
        refusal("x,y\n" + "1,2\n".repeat(5001)));
    assertEquals(
        "t.csv: is a ZIP archive or a spreadsheet: give a table as CSV text",
        refusal("PK\u0003\u0004"));
  }

  @Test
  void aFolderIsNoTable() {
    InputFault fault = assertThrows(InputFault.class, () -> CsvText.open(folder, "a file"));
    assertEquals(folder + ": is a folder: give a file", fault.getMessage());
  }

  @Test
  void theFirstCauseIsTold() {
    RuntimeException disk = new UncheckedIOException(new IOException("device went away"));
    assertEquals(
        "log.csv: cannot be read: device went away", CsvText.fault("log.csv", disk).getMessage());
    RuntimeException text = new CsvParseException("outer", new IllegalStateException("inner"));
    assertEquals("log.csv: not a CSV text: inner", CsvText.fault("log.csv", text).getMessage());
  }
}
