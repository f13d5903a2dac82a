package org.solarmargin.cli.fit.numeric;

import java.util.Arrays;

/**
 * A straight line through points by least squares.
 *
 * @param mean mean of the abscissas
 * @param meanValue mean of the ordinates
 * @param slope slope of the line; 0 where all abscissas are equal
 * @param spread root of the sum of squared distances of the abscissas from their mean
 * @param rms residual standard deviation: root of the sum of squares over the degrees of freedom; 0
 *     for two points
 */
public record StraightLine(double mean, double meanValue, double slope, double spread, double rms) {

  /** Fits the line to points. */
  public static StraightLine through(double[] x, double[] y) {
    double meanX = Arrays.stream(x).average().orElse(0);
    double meanY = Arrays.stream(y).average().orElse(0);
    double xx = 0;
    double xy = 0;
    for (int i = 0; i < x.length; i++) {
      xx += (x[i] - meanX) * (x[i] - meanX);
      xy += (x[i] - meanX) * (y[i] - meanY);
    }
    double slope = xx > 0 ? xy / xx : 0;
    double square = 0;
    for (int i = 0; i < x.length; i++) {
      double miss = y[i] - meanY - slope * (x[i] - meanX);
      square += miss * miss;
    }
    double rms = x.length > 2 ? Math.sqrt(square / (x.length - 2)) : 0;
    return new StraightLine(meanX, meanY, slope, Math.sqrt(xx), rms);
  }

  /** Value at 0. */
  public double intercept() {
    return meanValue - slope * mean;
  }
}
