package org.solarmargin.cli.log;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.solarmargin.cli.csv.CsvText;

/**
 * Parses the times of a log: numbers, clock times {@code hh:mm:ss} or dates with times (ISO 8601,
 * with T or a blank as separator; UTC where no offset is given). The first line decides which.
 * Clock times and dates are converted to time since the first line; clock times may run past
 * midnight. Numbers without a stated unit, in a column other than {@code time_s}, are taken as
 * epoch times in milli-, micro- or nanoseconds if they are as large as such times have been since
 * 2001.
 */
final class TimeForm {

  private static final double DAY = 86_400;

  /**
   * Epoch time in milliseconds in September 2001; micro- and nanoseconds are larger by 1e3 and 1e6.
   */
  private static final double EPOCH_MILLIS = 1e12;

  /** The same in seconds; no log is 31 years long. */
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
   * Creates a parser of a time column.
   *
   * @param guesses whether to infer the unit of a number from its magnitude
   */
  TimeForm(Source source, boolean guesses) {
    this.source = source;
    this.guesses = guesses;
  }

  /**
   * Parses a field as a time, s.
   *
   * @throws NumberFormatException if it does not have the form of the first line
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

  /** The instant of the first line, if its time is a date or an epoch time. */
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

  /** Human-readable form that was recognised; empty for seconds or a stated unit. */
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
