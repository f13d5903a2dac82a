package org.solarmargin.cli.logcheck;

/** Running means, standard deviations and correlation of two quantities (Welford 1962). */
final class Moments {

  private long count;
  private double meanX;
  private double meanY;
  private double squaresX;
  private double squaresY;
  private double products;

  void add(double x, double y) {
    count++;
    double dx = x - meanX;
    double dy = y - meanY;
    meanX += dx / count;
    meanY += dy / count;
    squaresX += dx * (x - meanX);
    squaresY += dy * (y - meanY);
    products += dx * (y - meanY);
  }

  long count() {
    return count;
  }

  double meanX() {
    return meanX;
  }

  double meanY() {
    return meanY;
  }

  double deviationX() {
    return Math.sqrt(squaresX / count);
  }

  double deviationY() {
    return Math.sqrt(squaresY / count);
  }

  /** Correlation between -1 and 1; 0 if one of the two is constant. */
  double correlation() {
    double scale = Math.sqrt(squaresX * squaresY);
    return scale > 0 ? products / scale : 0;
  }
}
