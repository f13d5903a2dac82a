package org.solarmargin.cli.fit.rotor;

import org.solarmargin.cli.file.InputFault;

/**
 * Thrust over motor power, {@code T = c P^q}: straight line of least squares in logarithms.
 * Momentum theory has q = 2/3 at a constant figure of merit, and thrust at equal power with the
 * cube root of air density.
 */
public final class ThrustLaw {

  private static final int FEWEST = 3;

  /** Relative sigma of a good row: common practice, no source. */
  private static final double SCALE_SD = 0.01;

  private final double logC;
  private final double exponent;
  private final double leastGrams;
  private final double mostGrams;

  private ThrustLaw(double logC, double exponent, double leastGrams, double mostGrams) {
    this.logC = logC;
    this.exponent = exponent;
    this.leastGrams = leastGrams;
    this.mostGrams = mostGrams;
  }

  /** Null if nothing was weighed. */
  public static ThrustLaw of(Stand stand, RotorFit fit) {
    double houseWatts = fit.houseWatts();
    int n = 0;
    double weights = 0;
    double sx = 0;
    double sy = 0;
    double sxx = 0;
    double sxy = 0;
    double least = Double.POSITIVE_INFINITY;
    double most = 0;
    int weighed = 0;
    for (int i = 0; i < stand.size(); i++) {
      double watts = stand.watts(i) - houseWatts;
      double grams = stand.grams(i);
      weighed += Double.isNaN(grams) ? 0 : 1;
      if (!(grams > 0) || !(watts > 0)) {
        continue;
      }
      double x = Math.log(watts);
      double y = Math.log(grams);
      // weak rows hang on what is drawn beside the motors, and on the current's noise
      double wattsSd = Math.hypot(fit.houseSd(), fit.rms() * stand.volts(i));
      double weight = 1 / (SCALE_SD * SCALE_SD + Math.pow(wattsSd / watts, 2));
      n++;
      weights += weight;
      sx += weight * x;
      sy += weight * y;
      sxx += weight * x * x;
      sxy += weight * x * y;
      least = Math.min(least, grams);
      most = Math.max(most, grams);
    }
    if (weighed == 0) {
      return null;
    }
    double spread = sxx / weights - sx / weights * sx / weights;
    if (n < FEWEST || !(spread > 1e-6)) {
      throw new InputFault(
          stand.name()
              + ": at least "
              + FEWEST
              + " different rows with thrust_g > 0 are needed: "
              + n
              + ": weigh at more throttles, or leave the column out");
    }
    double exponent = (sxy / weights - sx / weights * sy / weights) / spread;
    return new ThrustLaw((sy - exponent * sx) / weights, exponent, least, most);
  }

  public double exponent() {
    return exponent;
  }

  public double leastGrams() {
    return leastGrams;
  }

  public double mostGrams() {
    return mostGrams;
  }

  /** Motor power for a thrust, W, at an air density over the stand's. */
  double watts(double grams, double densityRatio) {
    double atStand = grams / Math.cbrt(densityRatio);
    return Math.exp((Math.log(atStand) - logC) / exponent);
  }
}
