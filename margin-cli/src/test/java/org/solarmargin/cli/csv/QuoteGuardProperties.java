package org.solarmargin.cli.csv;

import static org.junit.jupiter.api.Assertions.assertEquals;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/** After the guard each line is one record, whatever it and the previous lines contain. */
class QuoteGuardProperties {

  @Provide
  Arbitrary<List<String>> lines() {
    return Arbitraries.strings()
        .withChars("\",'a #1")
        .ofMinLength(1)
        .ofMaxLength(12)
        .list()
        .ofMaxSize(30);
  }

  @Provide
  Arbitrary<List<String>> ends() {
    return Arbitraries.of("\n", "\r\n", "\r").list().ofSize(30);
  }

  /** Records below a header. */
  private static List<CsvRecord> read(String text) throws IOException {
    byte[] bytes = ("header\n" + text).getBytes(StandardCharsets.UTF_8);
    try (CsvReader<CsvRecord> csv =
        CsvText.reader(new QuoteGuard(new ByteArrayInputStream(bytes)))) {
      List<CsvRecord> records = new ArrayList<>();
      csv.forEach(records::add);
      return records.subList(1, records.size());
    }
  }

  @Property(tries = 2000)
  void eachLineIsReadIndependently(
      @ForAll("lines") List<String> lines, @ForAll("ends") List<String> ends) throws IOException {
    StringBuilder text = new StringBuilder();
    List<String> alone = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      text.append(lines.get(i)).append(ends.get(i));
      for (CsvRecord record : read(lines.get(i))) {
        alone.add(i + 2 + " " + record.getFields());
      }
    }
    List<String> together =
        read(text.toString()).stream()
            .map(record -> record.getStartingLineNumber() + " " + record.getFields())
            .toList();
    long filled = lines.stream().filter(l -> l.charAt(0) != '#').count();
    assertEquals(filled, together.size(), "records");
    assertEquals(alone, together);
  }
}
