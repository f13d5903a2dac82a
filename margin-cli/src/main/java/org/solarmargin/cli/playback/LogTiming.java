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
 * The time model with which a log is estimated: stated by the profile, or found from the log, which
 * is read once before, up to {@value #ROWS} samples in the air. A log that cannot be read twice (a
 * pipe) is left to the live search.
 *
 * @param profile the craft, with the time model as its own
 * @param line what to tell the flyer, one sentence or two; empty where the profile states the model
 */
public record LogTiming(CraftProfile profile, String line) {

  private static final int ROWS = 6000;

  /** Rows closer together tell nothing more. */
  private static final double SPACING_SECONDS = 0.009;

  private static final int SLICE = 100_000;

  /** Between rows so far apart and farther, the throttle's path is not known. */
  private static final double SLOW_SECONDS = 0.095;

  /**
   * Finds the time model of a log.
   *
   * @param profile the craft
   * @param log the log
   * @param columns which header stands for what
   * @return profile and words
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
      // each slice is bounded
    }
    if (search.rows() == 0) {
      return new LogTiming(profile, "");
    }
    TimeModel used = search.model();
    double interval = search.intervalSeconds();
    String line =
        interval < SLOW_SECONDS ? words(search.likeliest(), used) : slowWords(interval, used);
    return new LogTiming(profile.withTiming(used), line);
  }

  private static String slowWords(double interval, TimeModel used) {
    String assumed =
        used.throttleUsed()
            ? text(
                "a filter of %.2f s is assumed, which errs towards too little",
                used.volts().filterSeconds())
            : "the throttle's moves are left out, and the interval is wide";
    return text("rows are %.2f s apart, so that filters and delays cannot be told: ", interval)
        + assumed
        + ". Log 20 rows a second or more";
  }

  private static String words(TimeModel found, TimeModel used) {
    String words = TimingWords.found(found, used);
    if (!used.throttleUsed()) {
      return words + ". Fly a few throttle steps on a tether for margin fit logger";
    }
    return TimingWords.lines(found).isEmpty() ? words : words + " (margin fit logger measures it)";
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }
}
