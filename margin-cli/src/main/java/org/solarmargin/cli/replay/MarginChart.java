package org.solarmargin.cli.replay;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.format.BlockChart;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/**
 * A terminal chart of the margin over time: the least margin of each interval, and the highest
 * alert below it. Intervals double in length as the flight continues, so memory is constant.
 */
final class MarginChart {

  private static final int COLUMNS = BlockChart.COLUMNS;
  private static final int MOST = 16 * COLUMNS;
  private static final String[] LETTERS = {" ", "a", "c", "W"};

  private final double[] least = new double[MOST];
  private final int[] level = new int[MOST];
  private double origin = Double.NaN;
  private double last;
  private double slice = 0.05;
  private int used;

  MarginChart() {
    Arrays.fill(least, Double.NaN);
  }

  void take(double seconds, MarginReading reading, AlertLevel standing) {
    origin = Double.isNaN(origin) ? seconds : origin;
    int place = (int) Math.min((seconds - origin) / slice, Integer.MAX_VALUE);
    while (place >= MOST) {
      halve();
      place = (int) Math.min((seconds - origin) / slice, Integer.MAX_VALUE);
    }
    used = Math.max(used, place + 1);
    last = seconds;
    Status status = reading.status();
    if (status.bearsMargin()) {
      // past the knee the motors cannot draw the power that the array could deliver
      double gap = reading.availableWatts() - reading.steadyDemandWatts();
      double margin = status == Status.PAST_KNEE ? 0 : Math.max(gap, 0);
      least[place] = Double.isNaN(least[place]) ? margin : Math.min(least[place], margin);
    }
    level[place] = Math.max(level[place], standing.ordinal());
  }

  private void halve() {
    for (int i = 0; i < MOST / 2; i++) {
      double a = least[2 * i];
      double b = least[2 * i + 1];
      least[i] = Double.isNaN(a) ? b : Double.isNaN(b) ? a : Math.min(a, b);
      level[i] = Math.max(level[2 * i], level[2 * i + 1]);
    }
    Arrays.fill(least, MOST / 2, MOST, Double.NaN);
    Arrays.fill(level, MOST / 2, MOST, 0);
    used = (used + 1) / 2;
    slice *= 2;
  }

  /** Lines of at most 78 characters; none if there was no margin to draw. */
  List<String> lines(boolean ascii) {
    int per = (used + COLUMNS - 1) / COLUMNS;
    double top = Arrays.stream(least).filter(Double::isFinite).max().orElse(Double.NaN);
    if (used == 0 || !(top > 0)) {
      return List.of();
    }
    int columns = (used + per - 1) / per;
    double[] watts = new double[columns];
    StringBuilder alerts = new StringBuilder();
    for (int c = 0; c < columns; c++) {
      watts[c] = leastOf(c * per, per);
      int highest = 0;
      for (int i = c * per; i < Math.min((c + 1) * per, MOST); i++) {
        highest = Math.max(highest, level[i]);
      }
      alerts.append(LETTERS[highest]);
    }
    List<String> lines = new ArrayList<>(BlockChart.lines(watts, alerts.toString(), top, ascii));
    String end = Clock.minutes(last - origin);
    lines.add(
        String.format(
            Locale.ROOT, "        0:00.0%" + Math.max(columns - 5, end.length() + 1) + "s", end));
    return lines;
  }

  private double leastOf(int from, int count) {
    double value = Double.NaN;
    for (int i = from; i < Math.min(from + count, MOST); i++) {
      value =
          Double.isNaN(value)
              ? least[i]
              : Double.isNaN(least[i]) ? value : Math.min(value, least[i]);
    }
    return value;
  }
}
