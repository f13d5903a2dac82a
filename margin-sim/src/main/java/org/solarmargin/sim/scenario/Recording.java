package org.solarmargin.sim.scenario;

import de.siegmar.fastcsv.reader.CommentStrategy;
import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.sim.sky.RecordedSky;

/** Reads an irradiance recording: {@code time_s, irradiance_w_m2}. */
final class Recording {

  private static final double WATTS_PER_SUN = 1000;

  /** Rows: a day at ten a second. */
  private static final int MOST = 864_000;

  private Recording() {}

  static RecordedSky read(Path file) throws IOException {
    if (!Files.isRegularFile(file)) {
      throw new PropertiesException(List.of(file + ": no such recording (sky.file)"));
    }
    List<double[]> points = new ArrayList<>();
    try (CsvReader<NamedCsvRecord> csv =
        CsvReader.builder().commentStrategy(CommentStrategy.SKIP).ofNamedCsvRecord(file)) {
      for (NamedCsvRecord line : csv) {
        if (points.size() == MOST) {
          throw new PropertiesException(
              List.of(file + ": has more than " + MOST + " rows, the most that are read: thin it"));
        }
        points.add(
            new double[] {number(file, line, "time_s"), number(file, line, "irradiance_w_m2")});
      }
    } catch (CsvParseException e) {
      throw new PropertiesException(List.of(file + ": not a CSV text: " + e.getMessage()));
    }
    double first = points.isEmpty() ? 0 : points.get(0)[0];
    double[] seconds = points.stream().mapToDouble(p -> p[0] - first).toArray();
    double[] suns = points.stream().mapToDouble(p -> Math.max(p[1], 0) / WATTS_PER_SUN).toArray();
    try {
      return new RecordedSky(seconds, suns);
    } catch (IllegalArgumentException e) {
      throw new PropertiesException(List.of(file + ": " + e.getMessage()));
    }
  }

  private static double number(Path file, NamedCsvRecord line, String column) {
    String text = line.findField(column).orElse("");
    try {
      double value = PlainNumber.parse(text);
      if (Math.abs(value) <= 1e9) {
        return value;
      }
    } catch (NumberFormatException e) {
      // named below
    }
    throw new PropertiesException(
        List.of(
            file
                + " line "
                + line.getStartingLineNumber()
                + ": "
                + column
                + " must be a number: "
                + text));
  }
}
