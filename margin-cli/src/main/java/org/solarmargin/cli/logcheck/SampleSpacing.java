package org.solarmargin.cli.logcheck;

import java.util.Locale;
import java.util.Optional;

/** A log in which most time steps exceed 0.6 s, slower than the 2 Hz that estimates need. */
final class SampleSpacing {

  /**
   * A microsecond more than 0.6 s, because a double resolves seconds since 1970 no finer than that.
   */
  private static final double SLOW_SECONDS = 0.6 + 1e-6;

  private static final int LEAST_STEPS = 5;

  private double first = Double.NaN;
  private double last;
  private long steps;
  private long slow;

  void take(double seconds) {
    if (Double.isNaN(first)) {
      first = seconds;
    } else {
      steps++;
      slow += seconds - last > SLOW_SECONDS ? 1 : 0;
    }
    last = seconds;
  }

  Optional<Finding> finding() {
    return steps >= LEAST_STEPS && 2 * slow > steps
        ? Optional.of(
            new Finding(
                String.format(
                    Locale.ROOT,
                    "most lines are over 0.6 s apart (mean %.3g s); 2 Hz is the minimum",
                    (last - first) / steps),
                "log faster, or state the unit of time with --column time_s=HEADER:UNIT",
                false))
        : Optional.empty();
  }
}
