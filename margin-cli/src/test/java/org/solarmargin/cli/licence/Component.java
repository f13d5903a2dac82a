package org.solarmargin.cli.licence;

import de.siegmar.fastcsv.reader.CommentStrategy;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.List;

/**
 * A row of {@code META-INF/third-party/components.csv}: a library inside margin.jar.
 *
 * @param group Maven's group
 * @param artifact Maven's artifact
 * @param licences SPDX identifiers, all of which apply
 * @param entries prefixes of its names in the jar
 * @param text file in the same folder with its copyright, notices and licence
 */
record Component(
    String group, String artifact, List<String> licences, List<String> entries, String text) {

  static final String FOLDER = "META-INF/third-party/";

  /** The complete list in its order. */
  static List<Component> all() throws IOException {
    try (CsvReader<NamedCsvRecord> rows =
        CsvReader.builder()
            .commentStrategy(CommentStrategy.SKIP)
            .ofNamedCsvRecord(
                new InputStreamReader(
                    Component.class.getResourceAsStream("/" + FOLDER + "components.csv"),
                    StandardCharsets.UTF_8))) {
      return rows.stream().map(Component::of).toList();
    }
  }

  private static Component of(NamedCsvRecord row) {
    String[] coordinates = row.getField("component").split(":", -1);
    return new Component(
        coordinates[0],
        coordinates[1],
        List.of(row.getField("licence").split(" AND ", -1)),
        List.of(row.getField("entries").split(" ", -1)),
        row.getField("text"));
  }

  @Override
  public String toString() {
    return group + ":" + artifact;
  }
}
