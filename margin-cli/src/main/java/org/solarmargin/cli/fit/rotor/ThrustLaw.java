package org.solarmargin.cli.fit.rotor;

import org.solarmargin.cli.file.InputFault;

/**
 * Thrust as a function of motor power, {@code T = c P^q}: a least-squares line in the logarithms.
 * Momentum theory gives q = 2/3 at a constant figure of merit, and thrust at equal power
 * proportional to the cube root of air density.
 */
public final class ThrustLaw {

  private static final int FEWEST = 3;

  /** Relative sigma of the thrust in a row at high power: common practice, no source. */
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

  /** Fits the law; null if no thrust was measured. */
  public static ThrustLaw of(Stand stand, RotorFit fit) {
    double housekeepingWatts = fit.housekeepingWatts();
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
      double watts = stand.watts(i) - housekeepingWatts;
      double grams = stand.grams(i);
      weighed += Double.isNaN(grams) ? 0 : 1;
      if (!(grams > 0) || !(watts > 0)) {
        continue;
      }
      double x = Math.log(watts);
      double y = Math.log(grams);
      // rows at low power depend on the housekeeping power and on the current's noise
      double wattsSd = Math.hypot(fit.housekeepingSd(), fit.rms() * stand.volts(i));
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
              + " different rows with thrust_g > 0 are required: "
              + n
              + ": measure thrust at more throttle settings, or leave the column out");
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

  /** Motor power for a thrust, W, at an air density relative to that at the stand. */
  double watts(double grams, double densityRatio) {
    double atStand = grams / Math.cbrt(densityRatio);
    return Math.exp((Math.log(atStand) - logC) / exponent);
  }
}
