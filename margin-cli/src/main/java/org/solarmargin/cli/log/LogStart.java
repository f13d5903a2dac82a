package org.solarmargin.cli.log;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.file.InputFault;

/**
 * The start time of a log whose times are relative to its first row, stated in a comment at the
 * top: {@code # start: 2026-06-21T12:00:00Z}. Logs whose times are dates or epoch times need no
 * such comment.
 */
public final class LogStart {

  private static final int HEAD = 4096;
  private static final Pattern COMMENT =
      Pattern.compile("^#[ \\t]*start[ \\t]*[:=][ \\t]*(\\S*)", Pattern.MULTILINE);

  private LogStart() {}

  /**
   * The comment line that states an instant.
   *
   * @param start instant of the log's first row; written in whole seconds
   * @return the line with its end
   */
  public static String comment(Instant start) {
    return "# start: " + start.truncatedTo(ChronoUnit.SECONDS) + "\n";
  }

  /**
   * Finds the comment.
   *
   * @param log the log; a file that is not regular, or not text, has none
   * @return empty if there is no such comment
   * @throws InputFault if the comment does not state a valid instant
   */
  public static Optional<Instant> of(Path log) {
    if (!Files.isRegularFile(log)) {
      return Optional.empty();
    }
    byte[] head;
    try (InputStream in = CsvText.bytes(log, "the log file itself")) {
      head = in.readNBytes(HEAD);
    } catch (IOException e) {
      throw new InputFault(log + ": cannot be read: " + e.getMessage());
    }
    Matcher found = COMMENT.matcher(new String(head, StandardCharsets.UTF_8));
    if (!found.find()) {
      return Optional.empty();
    }
    try {
      return Optional.of(instant(found.group(1)));
    } catch (DateTimeException e) {
      throw new InputFault(
          log + ": the comment # start: must be like 2026-06-21T12:00:00Z: " + found.group(1));
    }
  }

  /**
   * Reads an instant.
   *
   * @param text ISO 8601 with an offset, seconds optional
   * @return the instant
   * @throws DateTimeException if it is not a valid instant
   */
  public static Instant instant(String text) {
    return OffsetDateTime.parse(text).toInstant();
  }
}
