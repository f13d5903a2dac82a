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
        points.add(COLUMNS.stream().mapToDouble(column -> number(file, line, column)).toArray());
      }
    } catch (CsvParseException e) {
      String reason = e.getCause() == null ? e.getMessage() : e.getCause().getMessage();
      throw fault(file + ": not a CSV text: " + reason);
    }
    double first = points.isEmpty() ? 0 : points.get(0)[0];
    double[] seconds = points.stream().mapToDouble(p -> p[0] - first).toArray();
    double[] suns = points.stream().mapToDouble(p -> Math.max(p[1], 0) / WATTS_PER_SUN).toArray();
    try {
      return new RecordedSky(seconds, suns);
    } catch (IllegalArgumentException e) {
      throw fault(file + ": " + e.getMessage());
    }
  }

  private static void requireOne(Path file, List<String> header, String column) {
    int first = header.indexOf(column);
    int last = header.lastIndexOf(column);
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
    throw fault(
        file
            + " line "
            + line.getStartingLineNumber()
            + ": "
            + column
            + " must be a number: "
            + text);
  }
}
