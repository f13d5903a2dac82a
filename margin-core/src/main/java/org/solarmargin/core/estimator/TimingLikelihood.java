package org.solarmargin.core.estimator;

import org.solarmargin.core.timing.TimeModel;

/**
 * The likelihood of the readings of a flight under one time model: the prediction error method (L.
 * Ljung, System Identification, 2nd ed. 1999, chapter 7) with the estimator's own filter as the
 * predictor. Of two time models, the one with the greater likelihood describes the logger better.
 *
 * <p>Each sample contributes the logarithm of the density of its innovation. Samples count only in
 * the air, from three seconds after take-off. One thread at a time; no allocation after
 * construction.
 */
public final class TimingLikelihood {

  private final AlignedFilter filter;
  private final AirborneWatch airborne;
  private final TimingWatch watch = new TimingWatch();

  private double sum;
  private long readings;
  private double correlations;
  private long followed;

  /**
   * Creates the likelihood of a flight without samples.
   *
   * @param settings prior knowledge of the craft, not null; its own time model is not used
   * @param model the time model to be judged, not null
   */
  public TimingLikelihood(EstimatorSettings settings, TimeModel model) {
    filter = new AlignedFilter(settings, model);
    airborne = new AirborneWatch(settings.rotor());
  }

  /**
   * Discards the flight and starts with another time model.
   *
   * @param model the time model to be judged, not null
   */
  public void restart(TimeModel model) {
    filter.reset();
    filter.configure(model);
    airborne.reset();
    watch.reset();
    sum = 0;
    readings = 0;
    correlations = 0;
    followed = 0;
  }

  /**
   * Processes a command.
   *
   * @param nanos when it was given, ns, not before the last one
   * @param throttle 0 to 1
   */
  public void command(long nanos, double throttle) {
    filter.command(nanos, throttle);
    airborne.follow(nanos, throttle);
  }

  /**
   * Processes a reading. All commands up to its instant must have been passed before.
   *
   * @param nanos when it was read, ns, after the last reading
   * @param busVolts V; NaN if this one is not fresh
   * @param busAmps A; NaN if this one is not fresh
   */
  public void reading(long nanos, double busVolts, double busAmps) {
    filter.reading(nanos, busVolts, busAmps, Double.NaN);
    while (filter.predict()) {
      filter.correct(false);
      if (!filter.filter().healthy()) {
        filter.restart();
        return;
      }
      filter.filter().setAirborne(airborne.airborne(), airborne.seconds());
      if (airborne.seconds() > HiddenStateFilter.SETTLED_SECONDS) {
        sum += filter.filter().innovations().logLikelihood();
        readings += filter.sample().hasVolts ? 1 : 0;
        readings += filter.sample().hasAmps ? 1 : 0;
        follow(filter.elapsedSeconds());
      }
    }
  }

  private void follow(double step) {
    watch.follow(step, filter.sample(), filter.filter());
    if (watch.correlation() > 0) {
      correlations += watch.correlation();
      followed++;
    }
  }

  /**
   * Mean squared correlation of throttle changes with the innovations: the effect of throttle
   * changes that the time model does not explain. Unlike the likelihood, it is not affected by
   * noise that no candidate describes.
   *
   * @return 0 to 1; NaN before it is available
   */
  public double throttleCorrelation() {
    return correlations / followed;
  }

  /**
   * Mean log-likelihood of a pair of readings, up to a constant common to all models.
   *
   * @return NaN before the first sample that counts
   */
  public double meanLogLikelihood() {
    return 2 * sum / readings;
  }

  /**
   * Number of pairs of readings that counted.
   *
   * @return 0 or more
   */
  public long samples() {
    return readings / 2;
  }
}
