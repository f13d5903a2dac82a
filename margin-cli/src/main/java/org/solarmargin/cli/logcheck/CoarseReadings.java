package org.solarmargin.cli.logcheck;

import java.util.Locale;
import java.util.Optional;

/**
 * Voltage or current rounded so coarsely in flight that the slope of the array's curve cannot be
 * told. The rounding step is the smallest change. The limits lie between steps at which the lower
 * bound held on simulated flights (0.2 V of 29 V, 0.5 A of 1.8 A) and steps at which it did not
 * (0.5 V, 1 A of 2.6 A).
 */
final class CoarseReadings {

  /** Greatest rounding step over the mean reading. */
  private static final double MOST_OF_VOLTS = 0.012;

  private static final double MOST_OF_AMPS = 0.3;

  /** Number of changes from which their smallest is a rounding step: engineering judgement. */
  private static final int LEAST_CHANGES = 20;

  private final Readings volts = new Readings("bus_v", "V", MOST_OF_VOLTS);
  private final Readings amps = new Readings("bus_a", "A", MOST_OF_AMPS);

  /** Adds readings of flight; NaN if absent. */
  void take(double busVolts, double busAmps) {
    volts.take(busVolts);
    amps.take(busAmps);
  }

  Optional<Finding> finding() {
    return amps.finding().or(volts::finding);
  }

  /** The readings of one channel. */
  private static final class Readings {

    private final String column;
    private final String unit;
    private final double mostOfMean;
    private double sum;
    private long count;
    private double last = Double.NaN;
    private double step = Double.POSITIVE_INFINITY;
    private int changes;

    Readings(String column, String unit, double mostOfMean) {
      this.column = column;
      this.unit = unit;
      this.mostOfMean = mostOfMean;
    }

    void take(double value) {
      if (!Double.isFinite(value)) {
        return;
      }
      double change = Math.abs(value - last);
      if (change > 0) {
        step = Math.min(step, change);
        changes++;
      }
      sum += value;
      count++;
      last = value;
    }

    Optional<Finding> finding() {
      double mean = sum / count;
      if (changes < LEAST_CHANGES || step <= mostOfMean * mean) {
        return Optional.empty();
      }
      return Optional.of(
          new Finding(
              String.format(
                  Locale.ROOT,
                  "%s is rounded to %.3g %s, too coarse for an estimate (mean %.3g %s)",
                  column,
                  step,
                  unit,
                  mean,
                  unit),
              "log " + column + " with more digits",
              true));
    }
  }
}
