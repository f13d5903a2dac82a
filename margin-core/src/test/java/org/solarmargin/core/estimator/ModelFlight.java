package org.solarmargin.core.estimator;

import java.util.Random;
import java.util.function.DoubleUnaryOperator;

/** A flight drawn from the filter's own model, which satisfies all assumptions of the filter. */
final class ModelFlight {

  static final double STEP = 0.02;
  private static final double HOVER = 0.5;
  private static final double VARIATION_SD = 0.008;
  private static final double VARIATION_SECONDS = 0.06;

  /** Smaller than the prior's, so that the flights begin with a reserve of lift. */
  private static final double LIGHT_LOG_SD = 0.05;

  final FilterModel model;
  private final DoubleUnaryOperator lightDrift;
  private final double gustShare;
  private final Random random;
  final double[] x;
  double[][] jacobian;
  double[] noise;
  double throttle = HOVER;
  double busVolts;
  double busAmps;
  double availableWatts;
  private double seconds;
  private double variation;

  ModelFlight(
      EstimatorSettings settings, DoubleUnaryOperator lightDrift, double gustShare, long seed) {
    this.model = new FilterModel(settings, STEP);
    this.lightDrift = lightDrift;
    this.gustShare = gustShare;
    this.random = new Random(seed);
    this.x = model.draw(random, LIGHT_LOG_SD, HOVER);
    x[State.GUST] *= gustShare;
    read();
  }

  /**
   * Advances by one sample and linearises the model about its previous state: {@link #jacobian}.
   */
  void nextLinearised() {
    jacobian = model.jacobian(x, throttle);
    next();
  }

  /** Advances by one sample. */
  void next() {
    double volts = model.volts();
    noise = model.noise(x, volts, throttle, lightDrift.applyAsDouble(seconds), gustShare);
    model.move(x, volts, throttle);
    for (int j = 0; j < x.length; j++) {
      x[j] += noise[j] * random.nextGaussian();
    }
    double keep = Math.exp(-STEP / VARIATION_SECONDS);
    variation =
        keep * variation + Math.sqrt(1 - keep * keep) * VARIATION_SD * random.nextGaussian();
    throttle = HOVER + variation;
    seconds += STEP;
    read();
  }

  private void read() {
    availableWatts = model.available(x);
    model.solve(x, throttle);
    busVolts = model.voltsReading(x) + model.voltsSd() * random.nextGaussian();
    busAmps = model.ampsReading(x) + model.ampsSd() * random.nextGaussian();
  }

  /** Whether the craft is not past the knee. */
  boolean flies() {
    return model.volts() > model.peakVolts();
  }
}
