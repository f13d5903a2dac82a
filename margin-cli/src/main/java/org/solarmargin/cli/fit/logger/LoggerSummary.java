package org.solarmargin.cli.fit.logger;

import java.util.List;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/**
 * The logger's timing from several flights: weighted means, whose errors are enlarged where the
 * flights disagree by more than their standard errors (R. T. Birge, Physical Review 40, 1932).
 *
 * @param fits the fit of each flight
 * @param voltsFilter filter of the voltage, s
 * @param ampsFilter filter of the current, s
 * @param ampsDelay delay of the current relative to the voltage, s; negative if the current is
 *     ahead
 * @param commandDelay delay from the logged throttle to the motors, s
 * @param commandLag first-order lag of the motor controllers, s
 */
record LoggerSummary(
    List<LoggerFit> fits,
    FittedValue voltsFilter,
    FittedValue ampsFilter,
    FittedValue ampsDelay,
    FittedValue commandDelay,
    FittedValue commandLag) {

  /**
   * Error of a filter time due to the inexact craft model, relative, 1 sigma. This and the
   * following limits are engineering judgement; LoggerFitTest checks the errors that result.
   */
  private static final double MODEL_SHARE = 0.08;

  /** Least such error, s, and the error where readings are held, relative to their interval. */
  private static final double LEAST_ERROR = 0.003;

  private static final double HELD_ERROR = 0.5;

  /** Uncertainty of the rotors' own lag, from which the controllers' lag must be separated, s. */
  private static final double MOTOR_ERROR = 0.01;

  private static final double FILTER_LIMIT_SHARE = 0.35;
  private static final double LIMIT = 0.03;
  private static final double LAG_LIMIT = 0.05;

  /** Readings whose interval exceeds that of the rows by this factor count as held or lost. */
  private static final double HELD_SHARE = 1.5;

  private static final double UNIFORM = Math.sqrt(12);

  static LoggerSummary of(List<LoggerFit> fits) {
    double resolution =
        fits.stream().mapToDouble(fit -> fit.rows().intervalSeconds()).min().orElse(0) / UNIFORM;
    return new LoggerSummary(
        fits,
        filter(fits, LoggerFit::voltsFilter),
        filter(fits, LoggerFit::ampsFilter),
        mean(fits, LoggerFit::ampsDelay).withError(resolution).within(LIMIT),
        mean(fits, LoggerFit::commandDelay).withError(resolution).within(LIMIT),
        mean(fits, LoggerFit::commandLag).withError(MOTOR_ERROR).within(LAG_LIMIT));
  }

  private static FittedValue filter(List<LoggerFit> fits, Function<LoggerFit, FittedValue> which) {
    FittedValue fitted = mean(fits, which);
    double slowest = fits.stream().mapToDouble(LoggerSummary::slowest).max().orElse(0);
    return fitted
        .withError(MODEL_SHARE * fitted.value())
        .withError(LEAST_ERROR)
        .withError(fitted.value() > LEAST_ERROR ? HELD_ERROR * slowest : 0)
        .within(Math.max(FILTER_LIMIT_SHARE * fitted.value(), LIMIT));
  }

  /** Interval of fresh readings of the slower channel where rows come more often, s; else 0. */
  private static double slowest(LoggerFit fit) {
    double rows = fit.rows().intervalSeconds();
    double volts = fit.rows().voltsStatistics().periodSeconds();
    double amps = fit.rows().ampsStatistics().periodSeconds();
    double fresh = Math.max(volts, amps);
    return fresh > HELD_SHARE * rows ? fresh : 0;
  }

  private static FittedValue mean(List<LoggerFit> fits, Function<LoggerFit, FittedValue> which) {
    double weights = 0;
    double sum = 0;
    int known = 0;
    for (LoggerFit fit : fits) {
      FittedValue fitted = which.apply(fit);
      if (fitted.known()) {
        double weight = weight(fitted);
        weights += weight;
        sum += weight * fitted.value();
        known++;
      }
    }
    if (known == 0) {
      return FittedValue.UNKNOWN;
    }
    double mean = sum / weights;
    double chiSquared = 0;
    for (LoggerFit fit : fits) {
      FittedValue fitted = which.apply(fit);
      if (fitted.known()) {
        chiSquared += weight(fitted) * (fitted.value() - mean) * (fitted.value() - mean);
      }
    }
    double ratio = known > 1 ? Math.max(chiSquared / (known - 1), 1) : 1;
    return new FittedValue(mean, Math.sqrt(ratio / weights));
  }

  /** The error is limited from below, because an error of 0 would have infinite weight. */
  private static double weight(FittedValue fitted) {
    double sd = Math.max(fitted.sd(), 1e-4);
    return 1 / (sd * sd);
  }

  /** Whether the logs determine the filters and the delay of the readings. */
  boolean determined() {
    return voltsFilter.known() && ampsFilter.known() && ampsDelay.known();
  }

  /** Interval of fresh readings, s; 0 where every row brings one. */
  double period(Function<FlightRows, ChannelStatistics> channel) {
    double rows = mean(fit -> fit.rows().intervalSeconds());
    double fresh = mean(fit -> channel.apply(fit.rows()).periodSeconds());
    return fresh > HELD_SHARE * rows ? fresh : 0;
  }

  /** Mean over the flights that determine it; NaN if none does. */
  double mean(ToDoubleFunction<LoggerFit> of) {
    return fits.stream().mapToDouble(of).filter(v -> !Double.isNaN(v)).average().orElse(Double.NaN);
  }
}
