package org.solarmargin.cli.outlook;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.format.BlockChart;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;

/** A terminal chart of the lower bound minus hover power over a day, with alerts below. */
final class DayChart {

  private DayChart() {}

  /** Lines of at most 78 characters; none if the lower bound never reaches hover. */
  static List<String> lines(List<Moment> moments, AlertRules rules, boolean ascii) {
    double top = moments.stream().mapToDouble(DayChart::left).max().orElse(0);
    if (!(top > 0)) {
      return List.of();
    }
    int columns = Math.min(BlockChart.COLUMNS, moments.size());
    double[] watts = new double[columns];
    StringBuilder alerts = new StringBuilder();
    for (int c = 0; c < columns; c++) {
      Moment least = least(moments, c, columns);
      watts[c] = left(least);
      alerts.append(letter(least.lowPercent(), rules));
    }
    List<String> lines = new ArrayList<>(BlockChart.lines(watts, alerts.toString(), top, ascii));
    lines.add(
        "         "
            + OutlookText.CLOCK.format(moments.get(0).time())
            + " ".repeat(Math.max(columns - 10, 1))
            + OutlookText.CLOCK.format(moments.get(moments.size() - 1).time()));
    return lines;
  }

  private static double left(Moment moment) {
    return moment.lowWatts() - moment.demandWatts();
  }

  /** The moment of a column with the least margin. */
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
