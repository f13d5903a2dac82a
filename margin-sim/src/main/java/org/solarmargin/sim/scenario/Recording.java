package org.solarmargin.sim.scenario;

import de.siegmar.fastcsv.reader.CommentStrategy;
import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import de.siegmar.fastcsv.reader.NamedCsvRecordHandler;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.sim.sky.RecordedSky;

/** Reads an irradiance recording: {@code time_s, irradiance_w_m2}. */
final class Recording {

  private static final double WATTS_PER_SUN = 1000;

  /** Most rows: a day at ten rows per second. */
  private static final int MOST = 864_000;

  private static final List<String> COLUMNS = List.of("time_s", "irradiance_w_m2");

  private Recording() {}

  static RecordedSky read(Path file) throws IOException {
    if (!Files.isRegularFile(file)) {
      throw fault(file + ": no such recording (sky.file)");
    }
    List<double[]> points = new ArrayList<>();
    try (CsvReader<NamedCsvRecord> csv =
        CsvReader.builder()
            .commentStrategy(CommentStrategy.SKIP)
            .build(NamedCsvRecordHandler.of(h -> h.allowDuplicateHeaderFields(true)), file)) {
      for (NamedCsvRecord line : csv) {
        if (points.isEmpty()) {
          COLUMNS.forEach(column -> requireOne(file, line.getHeader(), column));
        }
        if (points.size() == MOST) {
          throw fault(
              file + ": has more than " + MOST + " rows, which is the limit: downsample it");
        }
        points.add(row(file, line, points));
      }
    } catch (CsvParseException e) {
      String reason = e.getCause() == null ? e.getMessage() : e.getCause().getMessage();
      throw fault(file + ": not a CSV text: " + reason);
    }
    if (points.isEmpty()) {
      throw fault(file + ": has no rows under a header " + String.join(",", COLUMNS));
    }
    double first = points.get(0)[0];
    return new RecordedSky(
        points.stream().mapToDouble(p -> p[0] - first).toArray(),
        points.stream().mapToDouble(p -> Math.max(p[1], 0) / WATTS_PER_SUN).toArray());
  }

  private static double[] row(Path file, NamedCsvRecord line, List<double[]> before) {
    double[] row = COLUMNS.stream().mapToDouble(column -> number(file, line, column)).toArray();
    if (!before.isEmpty()) {
      // as they are stored, from the first on: close ones among very large ones become equal
      double first = before.get(0)[0];
      double last = before.get(before.size() - 1)[0];
      if (row[0] - first <= last - first) {
        throw fault(at(file, line) + "time_s must rise: " + line.getField("time_s"));
      }
    }
    return row;
  }

  private static void requireOne(Path file, List<String> header, String column) {
    int first = header.indexOf(column);
    int last = header.lastIndexOf(column);
    if (first < 0) {
      throw fault(
          file
              + ": has no column "
              + column
              + ", which a recording needs; it has: "
              + String.join(", ", header));
    }
    if (first != last) {
      throw fault(
          String.format(
              Locale.ROOT,
              "%s: column %s is there twice, as fields %d and %d of the header: rename or remove one",
              file,
              column,
              first + 1,
              last + 1));
    }
  }

  private static PropertiesException fault(String line) {
    return new PropertiesException(List.of(line));
  }

  private static double number(Path file, NamedCsvRecord line, String column) {
    String text = line.findField(column).orElse("");
    try {
      double value = PlainNumber.parse(text);
      if (Math.abs(value) <= 1e9) {
        return value;
      }
    } catch (NumberFormatException e) {
      // reported below
    }
    throw fault(at(file, line) + column + " must be a number: " + text);
  }

  private static String at(Path file, NamedCsvRecord line) {
    return file + " line " + line.getStartingLineNumber() + ": ";
  }
}
