package org.solarmargin.cli.playback;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.core.estimator.TimingSearch;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.TimingWords;
import org.solarmargin.core.timing.TimeModel;

/**
 * The time model used to replay a log: stated in the profile, or identified from the log, of which
 * up to {@value #ROWS} samples in the air are read beforehand. For a log that cannot be read twice
 * (a pipe) or is too short, the live search is used instead.
 *
 * @param profile the craft with this time model
 * @param line message for the pilot, one or two sentences; empty where the profile states the model
 *     or none was found
 */
public record LogTiming(CraftProfile profile, String line) {

  private static final int ROWS = 6000;

  /**
   * Rows closer together than this are left out, because they add no information: engineering
   * judgement.
   */
  private static final double SPACING_SECONDS = 0.009;

  private static final int SLICE = 100_000;

  /** Row interval, s, from which the throttle between rows is unknown. */
  private static final double SLOW_SECONDS = 0.095;

  /**
   * Finds the time model of a log.
   *
   * @param profile the craft
   * @param log the log
   * @param columns mapping of header names
   * @return profile and message
   * @throws IOException if the log cannot be read
   */
  public static LogTiming of(CraftProfile profile, Path log, ColumnMap columns) throws IOException {
    if (profile.settings().timing().known() || !Files.isRegularFile(log)) {
      return new LogTiming(profile, "");
    }
    TimingSearch search = new TimingSearch(profile.settings(), ROWS, SPACING_SECONDS);
    FreshRows.read(
        profile,
        log,
        columns,
        (nanos, throttle, volts, amps) -> {
          search.record(nanos, throttle, volts, amps);
          return !search.full();
        });
    search.start();
    while (!search.work(SLICE)) {
      // each call does a bounded amount of work
    }
    TimeModel used = search.model();
    if (!used.known()) {
      return new LogTiming(profile, "");
    }
    double interval = search.intervalSeconds();
    String line =
        interval < SLOW_SECONDS ? words(search.likeliest(), used) : slowWords(interval, used);
    return new LogTiming(profile.withTiming(used), line);
  }

  private static String slowWords(double interval, TimeModel used) {
    String assumed =
        used.throttleUsed()
            ? text(
                "a filter of %.2f s is assumed, which biases the estimate low",
                used.volts().filterSeconds())
            : "throttle movements are left out, and the interval is wide";
    return text("rows are %.2f s apart, so filters and delays cannot be determined: ", interval)
        + assumed
        + ". Log 20 rows a second or more";
  }

  private static String words(TimeModel found, TimeModel used) {
    String words = TimingWords.found(found, used);
    if (!used.throttleUsed()) {
      return words + ". Fly a few throttle steps on a tether and run margin fit logger";
    }
    return TimingWords.lines(found).isEmpty() ? words : words + " (margin fit logger measures it)";
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }
}
