package org.solarmargin.cli.log;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.solarmargin.cli.csv.CsvText;

/**
 * Times of a log: numbers, clock times {@code hh:mm:ss} or dates with times (ISO 8601, the T may be
 * a blank; UTC where no offset is given). The first line tells which. Clock times and dates are
 * counted from the first line on, clock times over midnight. Numbers whose unit nobody stated, in a
 * column that is not {@code time_s}, are epoch times in milli-, micro- or nanoseconds where they
 * are as large as those are since 2001.
 */
final class TimeForm {

  private static final double DAY = 86_400;

  /** The second half of 2001 in milliseconds; a thousand and a million times that. */
  private static final double EPOCH_MILLIS = 1e12;

  /** The same in seconds: no log counts 31 years from its own start. */
  private static final double EPOCH_SECONDS = 1e9;

  private static final double EPOCH_MICROS = 1e15;
  private static final double EPOCH_NANOS = 1e18;

  private enum Kind {
    UNKNOWN,
    NUMBER,
    CLOCK,
    DATE
  }

  private final Source source;
  private final boolean guesses;
  private Kind kind = Kind.UNKNOWN;
  private double epochFactor = 1;
  private Instant first;
  private double firstNumber = Double.NaN;
  private double firstClock = Double.NaN;
  private double days;
  private double lastClock = Double.NaN;

  /**
   * A column of times.
   *
   * @param guesses whether a number's unit may be told by its size
   */
  TimeForm(Source source, boolean guesses) {
    this.source = source;
    this.guesses = guesses;
  }

  /**
   * The time that a field states, s.
   *
   * @throws NumberFormatException if it is none of this form
   */
  double parse(String text) {
    if (kind == Kind.UNKNOWN) {
      kind = kindOf(text);
      epochFactor = kind == Kind.NUMBER && guesses ? epochFactor(CsvText.number(text)) : 1;
    }
    return switch (kind) {
      case CLOCK -> clock(text.strip());
      case DATE -> date(text.strip());
      default -> number(text);
    };
  }

  private double number(String text) {
    double value = CsvText.number(text);
    double seconds = epochFactor == 1 ? source.convert(value) : epochFactor * value;
    firstNumber = Double.isNaN(firstNumber) ? seconds : firstNumber;
    return seconds;
  }

  /** The instant of the first line, where its time is a date or counts from 1970. */
  Optional<Instant> start() {
    if (kind == Kind.DATE) {
      return Optional.ofNullable(first);
    }
    return kind == Kind.NUMBER && firstNumber >= EPOCH_SECONDS && firstNumber < 10 * EPOCH_SECONDS
        ? Optional.of(Instant.ofEpochMilli(Math.round(1000 * firstNumber)))
        : Optional.empty();
  }

  private static Kind kindOf(String text) {
    String t = text.strip();
    if (t.indexOf(':') < 0) {
      return Kind.NUMBER;
    }
    return t.indexOf('-') > 0 ? Kind.DATE : Kind.CLOCK;
  }

  private static double epochFactor(double value) {
    if (value >= EPOCH_NANOS) {
      return 1e-9;
    }
    if (value >= EPOCH_MICROS) {
      return 1e-6;
    }
    return value >= EPOCH_MILLIS ? 1e-3 : 1;
  }

  private double clock(String text) {
    String[] parts = text.split(":", -1);
    if (parts.length != 3) {
      throw new NumberFormatException(text);
    }
    double hours = CsvText.number(parts[0]);
    double minutes = CsvText.number(parts[1]);
    double seconds = CsvText.number(parts[2]);
    boolean sane =
        hours >= 0 && hours < 100 && minutes >= 0 && minutes < 60 && seconds >= 0 && seconds < 61;
    if (!sane || hours != Math.rint(hours) || minutes != Math.rint(minutes)) {
      throw new NumberFormatException(text);
    }
    double now = hours * 3600 + minutes * 60 + seconds;
    days += now < lastClock - DAY / 2 ? 1 : 0;
    lastClock = now;
    firstClock = Double.isNaN(firstClock) ? now : firstClock;
    return days * DAY + now - firstClock;
  }

  private double date(String text) {
    String iso = text.indexOf('T') < 0 ? text.replaceFirst("\\s+", "T") : text;
    Instant at;
    try {
      at =
          hasOffset(iso)
              ? OffsetDateTime.parse(iso).toInstant()
              : LocalDateTime.parse(iso).toInstant(ZoneOffset.UTC);
    } catch (DateTimeException e) {
      throw new NumberFormatException(text);
    }
    first = first == null ? at : first;
    double seconds = at.getEpochSecond() - first.getEpochSecond();
    return seconds + (at.getNano() - first.getNano()) * 1e-9;
  }

  private static boolean hasOffset(String iso) {
    int time = iso.indexOf('T');
    return iso.endsWith("Z") || iso.indexOf('+', time) > 0 || iso.indexOf('-', time) > 0;
  }

  /** Whether the field's text is the time in seconds. */
  boolean plain() {
    return kind == Kind.NUMBER && epochFactor == 1 && source.plain();
  }

  /** What was recognised, for people; empty where that is seconds, or a unit that was stated. */
  String words() {
    return switch (kind) {
      case CLOCK -> "time_s is a clock time, counted from the first line";
      case DATE -> "time_s is a date and time, counted from the first line";
      case NUMBER -> epochFactor == 1 ? "" : "time_s is an epoch time in " + epochUnit();
      case UNKNOWN -> "";
    };
  }

  private String epochUnit() {
    return epochFactor == 1e-3 ? "ms" : epochFactor == 1e-6 ? "us" : "ns";
  }
}
