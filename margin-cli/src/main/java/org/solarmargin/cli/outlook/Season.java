package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.solarmargin.cli.text.Lines;

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

  void print(Lines out) {
    LocalDate first = null;
    LocalDate last = null;
    LocalDate best = null;
    int count = 0;
    for (Map.Entry<LocalDate, Optional<Window>> day : days.entrySet()) {
      if (OutlookCommand.anHour(day.getValue())) {
        first = first == null ? day.getKey() : first;
        last = day.getKey();
      }
      boolean longer = best == null || minutes(day.getValue()) > minutes(days.get(best));
      best = longer ? day.getKey() : best;
      if (count++ % SHOWN_EVERY == 0) {
        long length = minutes(day.getValue());
        out.line(
            "%s  %2d h %02d  %s",
            day.getKey(), length / 60, length % 60, "#".repeat((int) (length / MINUTES_PER_MARK)));
      }
    }
    out.blank();
    if (first == null) {
      out.text("On no day is there an hour without WARNING.");
    } else {
      out.line("An hour without WARNING from %s to %s.", first, last);
      long length = minutes(days.get(best));
      out.line("The longest: %d h %02d min on %s.", length / 60, length % 60, best);
    }
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
