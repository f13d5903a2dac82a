package org.solarmargin.cli.log;

import java.io.IOException;
import java.nio.file.Path;
import org.solarmargin.cli.file.InputFault;

/**
 * Infers the unit of a throttle column without a stated unit from the range of its values: 0 to 1,
 * percent, permille or the pulse width of a servo.
 */
final class ThrottleScale {

  // the limits of this class are engineering judgement
  private static final double FLYING = 0.2;
  static final double FRACTION = 1.05;

  /**
   * Number of rows between these two values that decides for a fraction; percentages pass through
   * that range in only a few rows.
   */
  private static final int SETTLED_ROWS = 50;

  private static final double PERCENT = 105;
  private static final double SHORTEST_PULSE = 750;
  private static final double LONGEST_PULSE = 2250;

  private ThrottleScale() {}

  /**
   * Infers the unit from a log.
   *
   * @return "1", "pct", "permille" or "us"; "1" where the values do not decide
   */
  static String of(Path file, ColumnMap columns) {
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    int fractions = 0;
    try (LogReader reader = LogReader.unscaled(file, columns)) {
      while (reader.next() && !(fractions > SETTLED_ROWS && most <= FRACTION)) {
        double value = reader.value(Column.THROTTLE);
        if (!Double.isNaN(value)) {
          least = Math.min(least, value);
          most = Math.max(most, value);
          fractions += value > FLYING && value <= FRACTION ? 1 : 0;
        }
      }
    } catch (InputFault | IOException e) {
      // the actual reading of the log reports the fault
      return "1";
    }
    return unit(least, most);
  }

  /** The unit of values in a range. */
  static String unit(double least, double most) {
    if (most <= FRACTION || least < 0) {
      return "1";
    }
    if (least >= SHORTEST_PULSE && most <= LONGEST_PULSE) {
      return "us";
    }
    if (most <= PERCENT) {
      return "pct";
    }
    return most <= 10 * PERCENT ? "permille" : "1";
  }
}
