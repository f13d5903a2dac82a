package org.solarmargin.core.estimator;

import java.util.Arrays;
import java.util.Random;
import org.hipparchus.linear.EigenDecompositionSymmetric;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;

/**
 * A bootstrap particle filter over the filter's own model (N. Gordon, D. Salmond, A. Smith, IEE
 * Proceedings F 140(2), 1993): slow and simple, without linearisation.
 */
final class ParticleFilter {

  private static final double RESAMPLE_SHARE = 0.5;
  private static final double KERNEL = 0.15;
  private static final double PRIOR_LIGHT_LOG_SD = 0.3;

  private final FilterModel model;
  private final Random random;
  private final int firstCount;
  private final int leastCount;
  private double[][] particles;
  private double[] volts;
  private double[] weights;
  private int updates;
  private double lastThrottle;

  ParticleFilter(FilterModel model, int firstCount, int leastCount, double throttle, long seed) {
    this.firstCount = firstCount;
    this.leastCount = leastCount;
    this.model = model;
    random = new Random(seed);
    particles = new double[firstCount][];
    volts = new double[firstCount];
    weights = new double[firstCount];
    Arrays.fill(weights, 1.0 / firstCount);
    for (int i = 0; i < firstCount; i++) {
      particles[i] = model.draw(random, PRIOR_LIGHT_LOG_SD, throttle);
    }
    lastThrottle = Double.NaN;
  }

  void update(double busVolts, double busAmps, double throttle, double lightDrift) {
    double[] logs = new double[particles.length];
    double most = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < particles.length; i++) {
      double[] x = particles[i];
      if (!Double.isNaN(lastThrottle)) {
        double[] sd = model.noise(x, volts[i], lastThrottle, lightDrift, 1);
        model.move(x, volts[i], lastThrottle);
        for (int j = 0; j < x.length; j++) {
          x[j] += sd[j] == 0 ? 0 : sd[j] * random.nextGaussian();
        }
      }
      model.solve(x, throttle);
      volts[i] = model.volts();
      double v = (busVolts - model.voltsReading(x)) / model.voltsSd();
      double a = (busAmps - model.ampsReading(x)) / model.ampsSd();
      logs[i] = Math.log(weights[i]) - 0.5 * (v * v + a * a);
      most = Math.max(most, logs[i]);
    }
    double sum = 0;
    for (int i = 0; i < logs.length; i++) {
      weights[i] = Math.max(Math.exp(logs[i] - most), Double.MIN_NORMAL);
      sum += weights[i];
    }
    for (int i = 0; i < logs.length; i++) {
      weights[i] /= sum;
    }
    updates++;
    // the first readings leave weight on few of the prior's particles, so the number is large at
    // first
    int wanted = Math.min(Math.max(firstCount / (updates + 1), leastCount), particles.length);
    if (effectiveCount() < RESAMPLE_SHARE * particles.length) {
      double[] mean = mean();
      RealMatrix spread = spread(mean);
      resample(wanted);
      freshen(mean, spread, throttle);
    }
    lastThrottle = throttle;
  }

  /** Effective number of particles: one over the sum of squared weights. */
  double effectiveCount() {
    double sum = 0;
    for (double w : weights) {
      sum += w * w;
    }
    return 1 / sum;
  }

  /** Mean and sigma of the logarithm of the available power. */
  double[] logAvailable() {
    double mean = 0;
    double square = 0;
    for (int i = 0; i < particles.length; i++) {
      double log = Math.log(model.available(particles[i]));
      mean += weights[i] * log;
      square += weights[i] * log * log;
    }
    return new double[] {mean, Math.sqrt(Math.max(square - mean * mean, 0))};
  }

  /** Systematic resampling. */
  private void resample(int n) {
    double[][] next = new double[n][];
    double[] nextVolts = new double[n];
    double at = random.nextDouble() / n;
    double sum = weights[0];
    int from = 0;
    for (int i = 0; i < n; i++) {
      while (at > sum && from < weights.length - 1) {
        from++;
        sum += weights[from];
      }
      next[i] = particles[from].clone();
      nextVolts[i] = volts[from];
      at += 1.0 / n;
    }
    particles = next;
    volts = nextVolts;
    weights = new double[n];
    Arrays.fill(weights, 1.0 / n);
  }

  private double[] mean() {
    double[] mean = new double[State.SIZE];
    for (int i = 0; i < particles.length; i++) {
      for (int j = 0; j < mean.length; j++) {
        mean[j] += weights[i] * particles[i][j];
      }
    }
    return mean;
  }

  /** A square root of the weighted covariance. */
  private RealMatrix spread(double[] mean) {
    double[][] p = new double[State.SIZE][State.SIZE];
    for (int i = 0; i < particles.length; i++) {
      for (int j = 0; j < State.SIZE; j++) {
        double off = weights[i] * (particles[i][j] - mean[j]);
        for (int k = 0; k < State.SIZE; k++) {
          p[j][k] += off * (particles[i][k] - mean[k]);
        }
      }
    }
    RealMatrix covariance = MatrixUtils.createRealMatrix(p);
    EigenDecompositionSymmetric parts =
        new EigenDecompositionSymmetric(covariance.add(covariance.transpose()).scalarMultiply(0.5));
    double[] roots = parts.getEigenvalues();
    Arrays.setAll(roots, j -> Math.sqrt(Math.max(roots[j], 0)));
    return parts.getV().multiply(MatrixUtils.createRealDiagonalMatrix(roots));
  }

  /**
   * Kernel smoothing that preserves mean and covariance (J. Liu, M. West, in Sequential Monte Carlo
   * Methods in Practice, 2001, section 10.3), so that copies of one particle separate again.
   */
  private void freshen(double[] mean, RealMatrix spread, double throttle) {
    double keep = Math.sqrt(1 - KERNEL * KERNEL);
    double[] draw = new double[State.SIZE];
    for (int i = 0; i < particles.length; i++) {
      double[] x = particles[i];
      for (int j = 0; j < draw.length; j++) {
        draw[j] = KERNEL * random.nextGaussian();
      }
      double[] jitter = spread.operate(draw);
      for (int j = 0; j < draw.length; j++) {
        x[j] = keep * x[j] + (1 - keep) * mean[j] + jitter[j];
      }
      model.solve(x, throttle);
      volts[i] = model.volts();
    }
  }
}
