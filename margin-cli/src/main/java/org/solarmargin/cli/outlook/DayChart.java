package org.solarmargin.cli.outlook;

import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;

/** What the lower bound leaves over hover through a day, for a terminal; alerts under it. */
final class DayChart {

  private static final int COLUMNS = 64;
  private static final int ROWS = 4;
  private static final String BLOCKS = " \u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588";
  private static final String ASCII = " .:#";
  private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  private DayChart() {}

  /** Lines of at most 78 characters; none if the lower bound never reaches hover. */
  static List<String> lines(List<Moment> moments, AlertRules rules, boolean ascii) {
    double top = moments.stream().mapToDouble(DayChart::left).max().orElse(0);
    if (!(top > 0)) {
      return List.of();
    }
    int columns = Math.min(COLUMNS, moments.size());
    String steps = ascii ? ASCII : BLOCKS;
    int levels = steps.length() - 1;
    List<String> lines = new ArrayList<>();
    for (int row = ROWS - 1; row >= 0; row--) {
      String label = row == ROWS - 1 ? String.format(Locale.ROOT, "%.0f W", top) : "";
      StringBuilder line = new StringBuilder(String.format("%7s |", row == 0 ? "0 W" : label));
      for (int c = 0; c < columns; c++) {
        double share = left(least(moments, c, columns)) / top * ROWS - row;
        line.append(steps.charAt((int) Math.ceil(Math.min(Math.max(share, 0), 1) * levels)));
      }
      lines.add(line.toString().stripTrailing());
    }
    StringBuilder alerts = new StringBuilder(" alert  |");
    for (int c = 0; c < columns; c++) {
      alerts.append(letter(least(moments, c, columns).lowPercent(), rules));
    }
    lines.add(alerts.toString().stripTrailing());
    lines.add(
        "         "
            + CLOCK.format(moments.get(0).time())
            + " ".repeat(Math.max(columns - 10, 1))
            + CLOCK.format(moments.get(moments.size() - 1).time()));
    return lines;
  }

  private static double left(Moment moment) {
    return moment.lowWatts() - moment.demandWatts();
  }

  /** The worst moment of a column. */
  private static Moment least(List<Moment> moments, int column, int columns) {
    int from = column * moments.size() / columns;
    int to = Math.max((column + 1) * moments.size() / columns, from + 1);
    Moment least = moments.get(from);
    for (Moment moment : moments.subList(from, to)) {
      least = left(moment) < left(least) ? moment : least;
    }
    return least;
  }

  private static char letter(double percent, AlertRules rules) {
    if (percent < rules.of(AlertLevel.WARNING).marginPercent()) {
      return 'W';
    }
    if (percent < rules.of(AlertLevel.CAUTION).marginPercent()) {
      return 'c';
    }
    return percent < rules.of(AlertLevel.ADVISORY).marginPercent() ? 'a' : ' ';
  }
}
