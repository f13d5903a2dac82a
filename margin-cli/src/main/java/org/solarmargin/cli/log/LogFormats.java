package org.solarmargin.cli.log;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.csv.Dialect;
import org.solarmargin.cli.file.FileKind;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.MessageRows;

/** Opens logs of any supported format as CSV text in the log format's own columns. */
final class LogFormats {

  private LogFormats() {}

  /** Opens a log as text; binary formats are decoded while it is read. */
  static InputStream open(Path file, ColumnMap columns) {
    String name = file.toString();
    try {
      BufferedInputStream bytes =
          new BufferedInputStream(CsvText.bytes(file, "the log file itself"));
      Optional<FileKind> kind = CsvText.kind(bytes);
      if (kind.isEmpty()) {
        return Dialect.of(bytes);
      }
      bytes.close();
      if (kind.get() == FileKind.ULOG && Files.isRegularFile(file)) {
        UlogLog log = new UlogLog(file, columns);
        return new LineStream(log, log.notes());
      }
      if (kind.get() == FileKind.MAVLINK && Files.isRegularFile(file)) {
        MessageRows rows = columns.messageRows();
        return new LineStream(new TelemetryLog(file, rows), rows.words());
      }
      throw new InputFault(
          name
              + ": is "
              + kind.get().description()
              + ": give a flight log, as CSV text, ULog or MAVLink");
    } catch (IOException e) {
      throw new InputFault(name + ": cannot be read: " + e.getMessage());
    }
  }

  /** The text of a log that is still being written: JSON lines, or CSV with any separator. */
  static InputStream live(InputStream stream, ColumnMap columns) throws IOException {
    InputStream text = JsonLines.asCsv(stream, columns);
    return text instanceof LineStream ? text : Dialect.of(text);
  }

  /** Notes on how a log was read. */
  static List<String> notes(InputStream opened) {
    if (opened instanceof LineStream lines) {
      return lines.notes();
    }
    String dialect = Dialect.description(opened);
    return dialect.isEmpty() ? List.of() : List.of(dialect);
  }
}
