package org.solarmargin.cli.outlook;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Optional;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;

/** The option for the day. */
final class DateOption {

  @Option(
      names = "--date",
      paramLabel = "YYYY-MM-DD",
      description = "the day; required without --log")
  private String date;

  /** An option, filled in by picocli. */
  DateOption() {}

  /** The day, if it was given. */
  Optional<LocalDate> given() {
    return Optional.ofNullable(date).map(DateOption::day);
  }

  /** The day that a text states. */
  static LocalDate day(String text) {
    try {
      return LocalDate.parse(text);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("--date must be like 2026-06-21: " + text, e);
    }
  }

  /** The day; refuses a missing one. */
  LocalDate required(CommandSpec spec) {
    return given()
        .orElseThrow(
            () ->
                new ParameterException(
                    spec.commandLine(), "Missing required option: '--date=YYYY-MM-DD'"));
  }
}
