package org.solarmargin.cli.fit.logger;

import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.TimingSearch;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * The time model of one flight's logger with standard errors: the most likely one of {@link
 * TimingSearch}, refined along each parameter at the peak of the likelihood.
 *
 * @param rows rows of the flight
 * @param voltsFilter filter of the voltage, s
 * @param ampsFilter filter of the current, s
 * @param ampsDelay delay of the current relative to the voltage, s; negative if the current is
 *     ahead
 * @param commandDelay delay from the logged throttle to the motors, s
 * @param commandLag first-order lag of the motor controllers, s
 */
record LoggerFit(
    FlightRows rows,
    FittedValue voltsFilter,
    FittedValue ampsFilter,
    FittedValue ampsDelay,
    FittedValue commandDelay,
    FittedValue commandLag) {

  /** Shortest time in the air from which the timing is identified, s: engineering judgement. */
  static final double LEAST_SECONDS = 15;

  /** Row interval, s, from which the throttle no longer describes what happens between rows. */
  private static final double SLOWEST_INTERVAL = 0.095;

  /**
   * Below this standard deviation the throttle is taken to carry noise alone: engineering
   * judgement.
   */
  private static final double LEAST_THROTTLE_SD = 0.003;

  private static final int SEARCH_ROWS = 6000;
  private static final double SPACING_SECONDS = 0.009;
  private static final int SLICE = 100_000;

  /** The peak is sought along the logarithm of each time plus this, s. */
  private static final double TIME_FLOOR = 0.02;

  private static final double LOG_STEP = 0.15;
  private static final double LAG_STEP = 0.3;

  /**
   * Filters whose logarithms differ by less are taken to be those of one power module: engineering
   * judgement.
   */
  private static final double EQUAL = 0.2;

  private static final double NO_FILTER = 0.004;

  /**
   * Equal filters are found too long by this share, and by this much more per second of filter
   * time, because the predictor's process noise is larger than that of a real craft ({@code
   * LoggerFitTest}, simulated flights).
   */
  private static final double LONG_SHARE = 0.05;

  private static final double LONG_PER_SECOND = 0.35;

  /**
   * Gain in log-likelihood above which the throttle's movements are accepted as belonging to the
   * readings: engineering judgement.
   */
  private static final double THROTTLE_GAIN = 10;

  static LoggerFit of(EstimatorSettings settings, FlightRows rows) {
    boolean slow = rows.intervalSeconds() >= SLOWEST_INTERVAL;
    if (slow || rows.seconds() < LEAST_SECONDS || rows.throttleSd() < LEAST_THROTTLE_SD) {
      return unknown(rows);
    }
    TimingSearch search = new TimingSearch(settings, SEARCH_ROWS, SPACING_SECONDS);
    for (int i = 0; i < rows.size() && !search.full(); i++) {
      search.record(rows.nanos(i), rows.throttle(i), rows.volts(i), rows.amps(i));
    }
    search.start();
    while (!search.work(SLICE)) {
      // each call does a bounded amount of work
    }
    if (!(search.throttleGain() * search.rows() > THROTTLE_GAIN)) {
      return unknown(rows);
    }
    return refined(rows, search.likeliest(), new BlockLikelihood(settings, rows));
  }

  private static LoggerFit unknown(FlightRows rows) {
    return new LoggerFit(
        rows,
        FittedValue.UNKNOWN,
        FittedValue.UNKNOWN,
        FittedValue.UNKNOWN,
        FittedValue.UNKNOWN,
        FittedValue.UNKNOWN);
  }

  private static LoggerFit refined(FlightRows rows, TimeModel found, BlockLikelihood likelihood) {
    double volts = found.volts().filterSeconds();
    double amps = found.amps().filterSeconds();
    double delay = found.amps().delaySeconds() - found.volts().delaySeconds();
    double command = found.commandDelaySeconds();
    double lag = found.commandLagSeconds();
    double[] here = likelihood.of(found);
    boolean equal = Math.abs(log(volts) - log(amps)) < EQUAL;
    FittedValue voltsFilter;
    FittedValue ampsFilter;
    if (equal) {
      FittedValue common =
          time(volts, LOG_STEP, here, t -> likelihood.of(model(found, t, t, delay, command, lag)));
      voltsFilter = unbiased(common);
      ampsFilter = voltsFilter;
    } else {
      voltsFilter =
          time(
              volts,
              LOG_STEP,
              here,
              t -> likelihood.of(model(found, t, amps, delay, command, lag)));
      ampsFilter =
          time(
              amps,
              LOG_STEP,
              here,
              t -> likelihood.of(model(found, volts, t, delay, command, lag)));
    }
    double interval = rows.intervalSeconds();
    FittedValue ampsDelay =
        delay(
            delay,
            interval,
            true,
            here,
            d -> likelihood.of(model(found, volts, amps, d, command, lag)));
    FittedValue commandDelay =
        delay(
            command,
            interval,
            false,
            here,
            d -> likelihood.of(model(found, volts, amps, delay, d, lag)));
    FittedValue commandLag =
        time(lag, LAG_STEP, here, t -> likelihood.of(model(found, volts, amps, delay, command, t)));
    return new LoggerFit(rows, voltsFilter, ampsFilter, ampsDelay, commandDelay, commandLag);
  }

  private static FittedValue unbiased(FittedValue filter) {
    double factor = 1 / (1 + LONG_SHARE + LONG_PER_SECOND * filter.value());
    return new FittedValue(filter.value() * factor, filter.sd() * factor);
  }

  private interface Sums {
    double[] at(double parameter);
  }

  /** Refines a time of 0 or more along its logarithm; at 0 the peak is at the end of the range. */
  private static FittedValue time(double found, double step, double[] here, Sums sums) {
    if (found < NO_FILTER) {
      double[] above = sums.at(seconds(Math.log(TIME_FLOOR) + step));
      return new FittedValue(0, TIME_FLOOR * Peak.errorAtEnd(step, here, above));
    }
    double middle = log(found);
    FittedValue peak =
        Peak.of(
            middle, step, sums.at(seconds(middle - step)), here, sums.at(seconds(middle + step)));
    double value = seconds(peak.value());
    return new FittedValue(value, (value + TIME_FLOOR) * peak.sd());
  }

  /** Refines a delay in steps of the log's interval; an unsigned one has its range end at 0. */
  private static FittedValue delay(
      double found, double interval, boolean signed, double[] here, Sums sums) {
    double longest = ChannelTiming.LONGEST_DELAY_SECONDS;
    double least = signed ? -longest : 0;
    double[] above = sums.at(Math.min(found + interval, longest));
    if (found - interval < least) {
      return new FittedValue(found, Peak.errorAtEnd(interval, here, above));
    }
    return new FittedValue(
        found, Peak.of(found, interval, sums.at(found - interval), here, above).sd());
  }

  private static TimeModel model(
      TimeModel found, double volts, double amps, double delay, double command, double lag) {
    return new TimeModel(
        new ChannelTiming(
            clamp(volts, ChannelTiming.LONGEST_FILTER_SECONDS),
            Math.max(-delay, 0),
            0,
            found.volts().roundingStep()),
        new ChannelTiming(
            clamp(amps, ChannelTiming.LONGEST_FILTER_SECONDS),
            Math.max(delay, 0),
            0,
            found.amps().roundingStep()),
        clamp(lag, TimeModel.LONGEST_COMMAND_LAG_SECONDS),
        clamp(command, ChannelTiming.LONGEST_DELAY_SECONDS),
        true,
        TimeModel.Source.FOUND);
  }

  private static double clamp(double value, double high) {
    return Math.min(Math.max(value, 0), high);
  }

  private static double log(double seconds) {
    return Math.log(seconds + TIME_FLOOR);
  }

  private static double seconds(double logarithm) {
    return Math.max(Math.exp(logarithm) - TIME_FLOOR, 0);
  }
}
