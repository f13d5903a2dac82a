package org.solarmargin.cli.csv;

import ch.randelshofer.fastdoubleparser.JavaDoubleParser;
import de.siegmar.fastcsv.reader.CommentStrategy;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.FieldMismatchStrategy;
import java.io.BufferedInputStream;
import java.io.FileInputStream;
import java.io.FileNotFoundException;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.cli.file.FileKind;
import org.solarmargin.cli.file.InputFault;

/**
 * How this program reads every CSV table: UTF-8, comments after {@code #}, lines of any number of
 * fields.
 */
public final class CsvText {

  private CsvText() {}

  /**
   * Opens a table and converts its separators to commas.
   *
   * @param file the file
   * @param instead what the message asks for if it is a folder
   * @return its text
   * @throws InputFault if there is no such file, it cannot be read, or it is not text
   */
  public static InputStream open(Path file, String instead) {
    InputStream bytes = bytes(file, instead);
    try {
      return text(file.toString(), bytes);
    } catch (IOException e) {
      throw new InputFault(file + ": cannot be read: " + e.getMessage());
    }
  }

  /**
   * The text of a table with its separators converted to commas.
   *
   * @param name for the message
   * @param bytes of the table
   * @return its text
   * @throws InputFault if it is not text
   * @throws IOException if it cannot be read
   */
  public static InputStream text(String name, InputStream bytes) throws IOException {
    BufferedInputStream buffered = new BufferedInputStream(bytes);
    Optional<FileKind> kind = kind(buffered);
    if (kind.isPresent()) {
      throw new InputFault(
          name + ": is " + kind.get().description() + ": give a table as CSV text");
    }
    return Dialect.of(buffered);
  }

  /**
   * Determines the kind of a stream from its first bytes without consuming them.
   *
   * @param buffered must support mark and reset
   * @return empty for text
   * @throws IOException if it cannot be read
   */
  public static Optional<FileKind> kind(BufferedInputStream buffered) throws IOException {
    buffered.mark(FileKind.PEEKED);
    byte[] head = buffered.readNBytes(FileKind.PEEKED);
    buffered.reset();
    return FileKind.of(head);
  }

  /**
   * Opens a file of any kind.
   *
   * @param file the file
   * @param instead what the message asks for if it is a folder
   * @return its bytes
   * @throws InputFault if there is no such file, or it cannot be read
   */
  public static InputStream bytes(Path file, String instead) {
    try {
      if (Files.isDirectory(file)) {
        throw new InputFault(file + ": is a folder: give " + instead);
      }
      // the channel of a pipe does not support available()
      return Files.isRegularFile(file)
          ? Files.newInputStream(file)
          : new FileInputStream(file.toFile());
    } catch (NoSuchFileException | FileNotFoundException e) {
      throw new InputFault(file + ": no such file");
    } catch (IOException e) {
      throw new InputFault(file + ": cannot be read: " + e.getMessage());
    }
  }

  /**
   * Whether a field denotes an absent reading.
   *
   * @param field text
   * @return true if it is blank, or {@code nan} in any case and with any sign
   */
  public static boolean absent(String field) {
    String text = field.strip();
    int sign = text.startsWith("-") || text.startsWith("+") ? 1 : 0;
    return text.isEmpty()
        || (text.length() == sign + 3 && text.regionMatches(true, sign, "nan", 0, 3));
  }

  /**
   * The position of a column. A column that is there twice is refused, because it is ambiguous
   * which of the two is meant.
   *
   * @param file for the message
   * @param header of the table
   * @param column its name
   * @return index among the header's fields, from 0; -1 if it is not there
   * @throws InputFault naming both positions if it is there twice
   */
  public static int place(String file, CsvRecord header, String column) {
    List<String> names = header.getFields().stream().map(String::strip).toList();
    int first = names.indexOf(column);
    int last = names.lastIndexOf(column);
    if (first != last) {
      throw new InputFault(
          String.format(
              Locale.ROOT,
              "%s line %d: column %s occurs twice, as fields %d and %d of the header: rename or"
                  + " remove one",
              file,
              header.getStartingLineNumber(),
              column,
              first + 1,
              last + 1));
    }
    return first;
  }

  /**
   * The fault for a table that cannot be read.
   *
   * @param name of its file
   * @param thrown by the reader
   * @return the fault with the root cause, which the reader's own message leaves out
   */
  public static InputFault fault(String name, RuntimeException thrown) {
    Throwable cause = thrown;
    while (cause.getCause() != null) {
      cause = cause.getCause();
    }
    String what = cause instanceof IOException ? ": cannot be read: " : ": not a CSV text: ";
    return new InputFault(name + what + cause.getMessage());
  }

  /**
   * Parses a number with the same result as {@link org.solarmargin.core.profile.PlainNumber#parse},
   * but faster.
   *
   * @param field text
   * @return the value; infinite or NaN only if the text says so; infinite also if the number is too
   *     large
   * @throws NumberFormatException if it is not a number; {@code 29d} and {@code 0x1p3} are not
   */
  public static double number(String field) {
    int end = field.length();
    while (end > 0 && field.charAt(end - 1) <= ' ') {
      end--;
    }
    char last = end == 0 ? ' ' : field.charAt(end - 1);
    boolean suffixed = last == 'd' || last == 'D' || last == 'f' || last == 'F';
    if (suffixed || field.indexOf('x') >= 0 || field.indexOf('X') >= 0) {
      throw new NumberFormatException(field);
    }
    return JavaDoubleParser.parseDouble(field);
  }

  /**
   * Creates a reader of records.
   *
   * @param stream the bytes; closed with the reader
   * @return a reader positioned at the first record
   */
  public static CsvReader<CsvRecord> reader(InputStream stream) {
    return CsvReader.builder()
        .commentStrategy(CommentStrategy.SKIP)
        .extraFieldStrategy(FieldMismatchStrategy.IGNORE)
        .missingFieldStrategy(FieldMismatchStrategy.IGNORE)
        .detectBomHeader(true)
        .ofCsvRecord(stream, StandardCharsets.UTF_8);
  }

  /**
   * Quotes a text as a field of CSV.
   *
   * @param text any
   * @return the text with its quotes doubled, between quotes
   */
  public static String quoted(String text) {
    return '"' + text.replace("\"", "\"\"") + '"';
  }

  /**
   * Writes a text as a field of CSV, in quotes where it must be.
   *
   * @param text any
   * @return the text, or {@link #quoted} if it has a quote, a comma or a line end
   */
  public static String field(String text) {
    return text.matches("[^\",\\r\\n]*") ? text : quoted(text);
  }
}
