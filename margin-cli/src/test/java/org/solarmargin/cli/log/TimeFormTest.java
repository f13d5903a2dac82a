package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Times of a log as people and loggers write them. */
class TimeFormTest {

  private static TimeForm form() {
    return new TimeForm(Source.NONE, true);
  }

  @ParameterizedTest
  @CsvSource({
    "1782000000000, 1782000000500, time_s is an epoch time in ms",
    "1782000000000000, 1782000000500000, time_s is an epoch time in us",
    "1782000000000000000, 1782000000500000000, time_s is an epoch time in ns",
    "1782000000, 1782000000.5, ''"
  })
  void epochTimesAreToldByTheirSize(String first, String second, String words) {
    TimeForm form = form();
    double start = form.parse(first);
    assertEquals(0.5, form.parse(second) - start, 1e-6);
    assertEquals(words, form.words());
    assertEquals(Optional.of(Instant.ofEpochSecond(1_782_000_000L)), form.start());
  }

  @ParameterizedTest
  @ValueSource(strings = {"0", "999999999", "10000000000", "-5"})
  void otherNumbersTellNoDate(String first) {
    TimeForm form = form();
    assertEquals(Double.parseDouble(first), form.parse(first));
    assertEquals(Optional.empty(), form.start());
    assertEquals("", form.words());
  }

  @Test
  void aNumberWhoseUnitIsStatedIsNotGuessedAt() {
    TimeForm form = new TimeForm(Source.of(Column.TIME, 0, "ms"), false);
    assertEquals(1_782_000_000_000.0, form.parse("1782000000000000"), 1e-3);
    assertFalse(form.plain());
  }

  @ParameterizedTest
  @CsvSource({
    "2026-06-21T12:00:00Z, 2026-06-21T12:00:01.5Z",
    "2026-06-21 12:00:00, 2026-06-21 12:00:01.5",
    "2026-06-21T14:00:00+02:00, 2026-06-21T14:00:01.5+02:00",
    "2026-06-21 07:00:00-05:00, 2026-06-21 13:00:01.5+01:00"
  })
  void datesAreIsoWithABlankOrAnOffset(String first, String second) {
    TimeForm form = form();
    assertEquals(0, form.parse(first));
    assertEquals(1.5, form.parse(second), 1e-9);
    assertEquals(Optional.of(Instant.parse("2026-06-21T12:00:00Z")), form.start());
    assertEquals("time_s is a date and time, counted from the first line", form.words());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "12:00",
        "12:00:00:00",
        "-1:00:00",
        "100:00:00",
        "12:60:00",
        "12:-1:00",
        "12:00:61",
        "12:00:-1",
        "12.5:00:00",
        "12:0.5:00",
        "12:00:x",
        "2026-13-01T12:00:00",
        "2026-06-21 noon:"
      })
  void whatIsNoTimeIsRefused(String text) {
    TimeForm form = form();
    assertThrows(NumberFormatException.class, () -> form.parse(text));
  }

  /** A leap second is one, and a flight may pass midnight. */
  @Test
  void clockTimesAreCountedFromTheFirstLine() {
    TimeForm form = form();
    assertEquals(0, form.parse("23:59:59.5"));
    assertEquals(1, form.parse("23:59:60.5"), 1e-9);
    assertEquals(2.5, form.parse("0:00:02"), 1e-9);
    assertEquals("time_s is a clock time, counted from the first line", form.words());
    assertEquals(Optional.empty(), form.start());
    assertEquals("", form().words(), "before the first line there is nothing to say");
  }
}
