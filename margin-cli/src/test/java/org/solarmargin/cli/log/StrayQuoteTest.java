package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.csv.QuoteGuard;
import org.solarmargin.cli.file.InputFault;

/** An unclosed quote affects only its own line, never the lines after it. */
class StrayQuoteTest {

  private static final String HEADER = "time_s,bus_v,bus_a,throttle,event";
  private static final int LINES = 3000;

  private final List<String> events = new ArrayList<>();
  private List<String> faults;
  private int refused;

  private void read(List<String> lines, String end) throws IOException {
    events.clear();
    refused = 0;
    double last = -1;
    byte[] bytes = String.join(end, lines).getBytes(StandardCharsets.UTF_8);
    try (LogReader reader =
        new LogReader("log.csv", new ByteArrayInputStream(bytes), new ColumnMap(List.of()))) {
      while (reader.next()) {
        double time = reader.value(Column.TIME);
        if (Double.isNaN(time)) {
          refused++;
        } else {
          assertTrue(time > last, "lines in order");
          last = time;
        }
        events.add(reader.event());
      }
      faults = reader.faults();
    }
  }

  private static List<String> lines() {
    List<String> lines = new ArrayList<>(List.of(HEADER));
    for (int i = 0; i < LINES; i++) {
      lines.add(i * 0.02 + ",28.1,2.7,0.5,");
    }
    return lines;
  }

  @ParameterizedTest
  @ValueSource(strings = {"\n", "\r\n", "\r"})
  void everyLineIsRead(String end) throws IOException {
    List<String> lines = lines();
    lines.set(5, lines.get(5) + "\"5in prop");
    lines.set(700, lines.get(700) + "\"said \"\"up\"\", then down\"");
    lines.set(LINES, lines.get(LINES) + "the end\"");
    lines.set(900, lines.get(900) + "x".repeat(100_000));
    read(lines, end);
    assertEquals(LINES, events.size());
    assertEquals("'5in prop", events.get(4));
    assertEquals("said \"up\", then down", events.get(699));
    assertEquals("the end'", events.get(LINES - 1));
    assertEquals("x".repeat(200) + "...", events.get(899), "a mark fits on a screen");
    assertEquals(
        List.of(
            "line 6 has a quote that is not closed (the first of 2 such lines): it is read as an"
                + " apostrophe"),
        faults);
  }

  @Test
  void oneLineIsReportedAlone() throws IOException {
    List<String> lines = lines();
    lines.set(6, lines.get(6) + "\"5in prop");
    read(lines, "\n");
    assertEquals(
        List.of("line 7 has a quote that is not closed: it is read as an apostrophe"), faults);
  }

  @Test
  void textAfterAClosingQuoteIsReadWithApostrophes() throws IOException {
    List<String> lines = lines();
    lines.set(6, lines.get(6) + "\"5in\" prop");
    read(lines, "\n");
    assertEquals(LINES, events.size());
    assertEquals("'5in' prop", events.get(5));
    assertEquals(
        List.of("line 7 has text after a closing quote: its quotes are read as apostrophes"),
        faults);
  }

  @Test
  void aFieldThatSpansLinesLosesThoseLines() throws IOException {
    List<String> lines = lines();
    lines.set(6, lines.get(6) + "\"wind up\nand then\ndown\"");
    read(lines, "\n");
    assertEquals(LINES + 2, events.size());
    assertEquals(2, refused);
    assertEquals("'wind up", events.get(5));
    assertEquals("", events.get(6), "an event of a refused line");
    assertEquals(
        List.of(
            "line 7 has a quote that is not closed (the first of 2 such lines): it is read as an"
                + " apostrophe",
            "line 8 is unreadable for that reason (the first of 2 such lines): refused"),
        faults);
  }

  @ParameterizedTest
  @ValueSource(ints = {QuoteGuard.LONGEST + 1, 3 * QuoteGuard.LONGEST})
  void aLineThatIsTooLongIsRefused(int length) throws IOException {
    List<String> lines = lines();
    lines.set(9, "x".repeat(length));
    read(lines, "\n");
    assertEquals(LINES, events.size());
    assertEquals(1, refused);
    assertEquals(
        List.of(
            "line 10 is longer than 1048576 bytes: it cannot be read",
            "line 10 is unreadable for that reason: refused"),
        faults);
  }

  @Test
  void aHeaderThatIsTooLongIsRefused() {
    List<String> lines = new ArrayList<>(List.of("x".repeat(2 * QuoteGuard.LONGEST)));
    lines.addAll(lines());
    InputFault fault = assertThrows(InputFault.class, () -> read(lines, "\n"));
    assertEquals(
        "log.csv line 1 is longer than 1048576 bytes: it cannot be read: give a flight log, CSV",
        fault.getMessage());
  }

  @Test
  void aDamagedLineIsLeftOutAndReported() throws IOException {
    List<String> lines = lines();
    lines.set(6, lines.get(6) + "\"5in prop");
    lines.set(20, "0.38,abc,2.7,0.5,");
    read(lines, "\n");
    assertEquals(1, refused);
    assertTrue(
        faults.get(1).contains("line 21: bus_v must be a number or empty: abc"), "" + faults);
  }

  @Test
  void moreThanOneDamagedLineInAHundredEndTheReading() {
    List<String> lines = lines();
    for (int i = 50; i <= 50 + LINES / 100; i++) {
      lines.set(i, "0.38,abc,2.7,0.5,");
    }
    InputFault fault = assertThrows(InputFault.class, () -> read(lines, "\n"));
    assertTrue(fault.getMessage().contains("line 51: bus_v must be a number"), fault.getMessage());
    assertTrue(fault.getMessage().contains("the first of 31 such lines"), fault.getMessage());
  }

  @Property(tries = 200)
  void aStrayQuoteAnywhereAffectsOneLine(
      @ForAll @IntRange(min = 1, max = LINES) int line, @ForAll String text) throws IOException {
    List<String> lines = lines();
    lines.set(line, lines.get(line) + "\"" + text.replaceAll("[\r\n\"]", ""));
    read(lines, "\n");
    assertEquals(LINES, events.size());
    assertTrue(faults.get(0).startsWith("line " + (line + 1) + " has"), faults.get(0));
  }

  @ParameterizedTest
  @ValueSource(ints = {100, 8191, 8192, 8193, 20000})
  void aLineOfAnyLengthIsOneLine(int length) throws IOException {
    List<String> lines = lines();
    String event = "x".repeat(length);
    lines.set(9, lines.get(9) + "\"" + event);
    read(lines, "\n");
    assertEquals(LINES, events.size());
    String mark = "'" + event;
    assertEquals(length < 200 ? mark : mark.substring(0, 200) + "...", events.get(8));
  }
}
