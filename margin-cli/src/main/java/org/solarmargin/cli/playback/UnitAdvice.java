package org.solarmargin.cli.playback;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.Arrays;
import java.util.Optional;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.verdict.GateLimits;

/**
 * Proposes another unit of a column if the log's numbers are impossible in the unit in which they
 * were read, but plausible in the other one. It judges by medians of the first values, in constant
 * memory. The limits are engineering judgement.
 */
public final class UnitAdvice {

  /** Intervals between rows that a log may have, s. Rows a second apart are not milliseconds. */
  private static final double SHORTEST_STEP = 2e-3;

  private static final double LONGEST_STEP = 0.6;

  /** Lowest voltage in operation over the highest that the array can give. */
  private static final double LEAST_VOLTS = 0.3;

  /** Power in flight over the hover power, at least and at most. */
  private static final double LEAST_POWER = 0.3;

  private static final double MOST_POWER = 3;

  /** Share of the rows in flight whose current must be impossible. */
  private static final double NEARLY_ALL = 0.9;

  private final GateLimits limits;
  private final double airborneThrottle;
  private final double hoverWatts;
  private final FirstValues steps = new FirstValues();
  private final FirstValues allVolts = new FirstValues();
  private final FirstValues flightVolts = new FirstValues();
  private final FirstValues flightAmps = new FirstValues();
  private long flightRows;
  private long impossibleRows;
  private double last = Double.NaN;

  /**
   * Advice before any row.
   *
   * @param settings the craft, whose readings have limits
   */
  public UnitAdvice(EstimatorSettings settings) {
    limits = MarginMonitor.limitsOf(settings);
    airborneThrottle = settings.rotor().airborneThrottle();
    hoverWatts = settings.rotor().hoverWatts();
  }

  /**
   * Takes a row as it is in the log, whether it can be used or not.
   *
   * @param time s, as read
   * @param volts V, as read
   * @param amps A, as read
   * @param throttle 0 to 1; NaN if absent, as all of them may be
   */
  public void take(double time, double volts, double amps, double throttle) {
    if (Double.isFinite(time)) {
      steps.add(time - last);
      last = time;
    }
    allVolts.add(volts);
    if (throttle >= airborneThrottle && amps > 0 && volts > 0) {
      flightVolts.add(volts);
      flightAmps.add(amps);
      flightRows++;
      impossibleRows += amps > limits.highestAmps() ? 1 : 0;
    }
  }

  /** What to do about the unit of the time, else of the current; empty if neither is suspect. */
  Optional<String> words(LogReader reader) {
    return time(reader).or(() -> amps(reader));
  }

  /**
   * What to do about the unit of the voltage, else of the current.
   *
   * @param reader the log, whose header names the columns
   * @return empty if neither is suspect
   */
  public Optional<String> readings(LogReader reader) {
    return volts(reader).or(() -> amps(reader));
  }

  private Optional<String> time(LogReader reader) {
    double step = steps.median();
    String unit = "";
    for (String one : new String[] {"ms", "us", "ns"}) {
      double scaled = step * Column.TIME.factor(one);
      unit = scaled >= SHORTEST_STEP && scaled <= LONGEST_STEP ? one : unit;
    }
    return words(
        reader,
        Column.TIME,
        step > LONGEST_STEP ? unit : "",
        "the times are " + text(step) + " apart");
  }

  private Optional<String> amps(LogReader reader) {
    double amps = flightAmps.median();
    double watts = amps * flightVolts.median();
    boolean impossible = flightRows > 0 && impossibleRows >= NEARLY_ALL * flightRows;
    String unit = "";
    for (String one : new String[] {"cA", "mA"}) {
      double factor = Column.AMPS.factor(one);
      boolean plausible =
          factor * amps <= limits.highestAmps()
              && factor * watts >= LEAST_POWER * hoverWatts
              && factor * watts <= MOST_POWER * hoverWatts;
      unit = plausible ? one : unit;
    }
    return words(
        reader, Column.AMPS, impossible ? unit : "", "the current in flight is " + text(amps));
  }

  /** What to do about the unit of the voltage; empty if it is not suspect. */
  Optional<String> volts(LogReader reader) {
    double volts = allVolts.median();
    String unit = "";
    for (String one : new String[] {"cV", "mV"}) {
      double scaled = volts * Column.VOLTS.factor(one);
      boolean plausible =
          scaled >= LEAST_VOLTS * limits.highestVolts() && scaled <= limits.highestVolts();
      unit = plausible ? one : unit;
    }
    return words(
        reader,
        Column.VOLTS,
        volts > limits.highestVolts() ? unit : "",
        "the voltage is " + text(volts));
  }

  /** A number in four digits, as it is written in logs. */
  private static String text(double value) {
    return Double.isNaN(value)
        ? ""
        : new BigDecimal(value).round(new MathContext(4)).stripTrailingZeros().toPlainString();
  }

  private static Optional<String> words(
      LogReader reader, Column column, String unit, String observed) {
    return unit.isEmpty()
        ? Optional.empty()
        : reader
            .unitOption(column, unit)
            .map(option -> observed + ": if the unit is " + unit + ", add " + option);
  }

  /** The median of the first positive values. */
  private static final class FirstValues {

    private final double[] values = new double[1000];
    private int count;

    void add(double value) {
      if (value > 0 && count < values.length) {
        values[count] = value;
        count++;
      }
    }

    /** NaN without a value. */
    double median() {
      double[] sorted = Arrays.copyOf(values, count);
      Arrays.sort(sorted);
      return count == 0 ? Double.NaN : sorted[count / 2];
    }
  }
}
