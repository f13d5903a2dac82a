package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.solarmargin.cli.format.Lines;

/** The longest window of each day of a year. */
final class Season {

  private static final int SHOWN_EVERY = 10;
  private static final int MINUTES_PER_MARK = 20;

  private final Map<LocalDate, Optional<Window>> days = new TreeMap<>();

  private Season() {}

  static Season of(DayOutlook outlook, int year, ZoneId zone, double leastPercent, Duration step) {
    Season season = new Season();
    LocalDate end = LocalDate.of(year + 1, 1, 1);
    for (LocalDate day = LocalDate.of(year, 1, 1); day.isBefore(end); day = day.plusDays(1)) {
      season.days.put(day, Window.longest(outlook.day(day, zone, step), leastPercent, step));
    }
    return season;
  }

  private static long minutes(Optional<Window> window) {
    return window.map(w -> w.length().toMinutes()).orElse(0L);
  }

  /** Hours of each day's longest window. */
  Map<LocalDate, Double> hours() {
    Map<LocalDate, Double> hours = new TreeMap<>();
    days.forEach((day, window) -> hours.put(day, minutes(window) / 60.0));
    return hours;
  }

  /** The conclusions for the year in sentences. */
  List<String> sentences() {
    LocalDate best =
        Collections.max(days.keySet(), Comparator.comparingLong(day -> minutes(days.get(day))));
    List<LocalDate> anHour = days.keySet().stream().filter(this::anHour).toList();
    if (anHour.isEmpty()) {
      return List.of("No day has an hour without WARNING.");
    }
    long length = minutes(days.get(best));
    return List.of(
        anHour.size() == days.size()
            ? "Every day has an hour without WARNING."
            : anHour(days.keySet().iterator().next())
                ? String.format(
                    Locale.ROOT,
                    "%d days have an hour without WARNING; the first that does not is %s.",
                    anHour.size(),
                    days.keySet().stream().filter(d -> !anHour(d)).findFirst().orElseThrow())
                : String.format(
                    Locale.ROOT,
                    "There is an hour without WARNING on days from %s to %s.",
                    anHour.get(0),
                    anHour.get(anHour.size() - 1)),
        String.format(
            Locale.ROOT,
            "The longest: %d h %02d min on %s%s.",
            length / 60,
            length % 60,
            best,
            days.get(best).map(w -> ", from " + OutlookText.CLOCK.format(w.from())).orElse("")));
  }

  private boolean anHour(LocalDate day) {
    return minutes(days.get(day)) >= 60;
  }

  void print(Lines out) {
    int count = 0;
    for (Map.Entry<LocalDate, Optional<Window>> day : days.entrySet()) {
      if (count++ % SHOWN_EVERY == 0) {
        long length = minutes(day.getValue());
        out.line(
            "%s  %2d h %02d  %s",
            day.getKey(), length / 60, length % 60, "#".repeat((int) (length / MINUTES_PER_MARK)));
      }
    }
    out.blank();
    sentences().forEach(out::text);
  }

  void write(Writer to) throws IOException {
    to.write("date,window_min,from,to\n");
    for (Map.Entry<LocalDate, Optional<Window>> day : days.entrySet()) {
      Optional<Window> w = day.getValue();
      to.write(
          day.getKey()
              + ","
              + minutes(w)
              + ","
              + w.map(x -> x.from().toOffsetDateTime().toString()).orElse("")
              + ","
              + w.map(x -> x.to().toOffsetDateTime().toString()).orElse("")
              + "\n");
    }
  }
}
