package org.solarmargin.cli.format;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * A column chart of a power over time for a terminal, with the letter of an alert under each
 * column.
 */
public final class BlockChart {

  /** Most columns that fit beside the labels. */
  public static final int COLUMNS = 64;

  private static final int ROWS = 4;
  private static final String BLOCKS = " \u2581\u2582\u2583\u2584\u2585\u2586\u2587\u2588";
  private static final String ASCII = " .:#";

  private BlockChart() {}

  /**
   * Draws the chart.
   *
   * @param watts value of each column, W; NaN leaves the column empty
   * @param letters letters below the columns, one each
   * @param top value of the full height, W, more than 0
   * @param ascii whether to draw in plain ASCII
   * @return rows from the top down, then that of the alerts
   */
  public static List<String> lines(double[] watts, String letters, double top, boolean ascii) {
    String steps = ascii ? ASCII : BLOCKS;
    int levels = steps.length() - 1;
    List<String> lines = new ArrayList<>();
    for (int row = ROWS - 1; row >= 0; row--) {
      StringBuilder line = new StringBuilder();
      line.append(String.format(Locale.ROOT, "%7s |", label(row, top)));
      for (double value : watts) {
        double share = value / top * ROWS - row;
        int step = (int) Math.ceil(Math.min(Math.max(share, 0), 1) * levels);
        line.append(Double.isNaN(value) ? ' ' : steps.charAt(step));
      }
      lines.add(line.toString().stripTrailing());
    }
    lines.add((" alert  |" + letters).stripTrailing());
    return lines;
  }

  private static String label(int row, double top) {
    return switch (row) {
      case ROWS - 1 -> String.format(Locale.ROOT, "%.0f W", top);
      case 0 -> "0 W";
      default -> "";
    };
  }
}
