package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.cell.CellParameters;

/** Compares standard errors with SciPy's, and with the scatter over noisy sweeps. */
class StandardErrorsTest {

  /**
   * RTC table, exact residual: SciPy 1.17.1, least_squares with a three-point Jacobian over a
   * brentq solve, covariance s^2 inv(J'J), s^2 over 21 degrees of freedom. IL, ln I0, n, Rs, Rsh.
   */
  private static final double[] SCIPY_ERRORS = {
    3.21705188e-4, 1.07740824e-1, 1.08023796e-2, 4.92543061e-4, 3.95122427
  };

  private static final double[][] SCIPY_CORRELATIONS = {
    {1, -0.12144, -0.1195, 0.08239, -0.64009},
    {-0.12144, 1, 0.99995, -0.94907, 0.59733},
    {-0.1195, 0.99995, 1, -0.94981, 0.59257},
    {0.08239, -0.94907, -0.94981, 1, -0.45199},
    {-0.64009, 0.59733, 0.59257, -0.45199, 1}
  };

  private static final double DIGITS = 1e-3;
  private static final int SWEEPS = 1000;

  /** Student's t, 35 degrees of freedom, two-sided 95 %. */
  private static final double T_95 = 2.0301;

  @Test
  void theyAgreeWithScipy() {
    Sweep sweep =
        Sweep.read(PublishedCurvesTest.TABLES.resolve("rtc-france-33c.csv"), 1, 1, 1000, 33);
    FitResult fit = new SingleDiodeFit(sweep, FitOptions.DEFAULT).run();
    RealMatrix covariance = fit.valueCovariance();
    double saturation = fit.values()[1];
    for (int r = 0; r < 5; r++) {
      double sd = Math.sqrt(covariance.getEntry(r, r)) / (r == 1 ? saturation : 1);
      assertEquals(1, sd / SCIPY_ERRORS[r], DIGITS, FitResult.NAMES.get(r));
      for (int c = 0; c < 5; c++) {
        double product = covariance.getEntry(r, r) * covariance.getEntry(c, c);
        double correlation = covariance.getEntry(r, c) / Math.sqrt(product);
        assertEquals(SCIPY_CORRELATIONS[r][c], correlation, DIGITS);
      }
    }
  }

  @Test
  void ninetyFivePercentIntervalsContainTheTruth() {
    CellParameters cell = new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005);
    double[] truth = DiodeParameters.of(cell, 40);
    int[] held = new int[DiodeParameters.all().length];
    for (int seed = 0; seed < SWEEPS; seed++) {
      Sweep sweep = Curves.of(cell, 48, 1, 0.9, 40, 40, 0.002, seed);
      FitResult fit = new SingleDiodeFit(sweep, FitOptions.DEFAULT).run();
      double[] found = fit.theta();
      for (int j : DiodeParameters.all()) {
        held[j] += Math.abs(found[j] - truth[j]) <= T_95 * fit.sd(j) ? 1 : 0;
      }
    }
    for (int j : DiodeParameters.all()) {
      double share = 100.0 * held[j] / SWEEPS;
      assertTrue(share >= 93 && share <= 97, "coverage of parameter " + j + ": " + share);
    }
  }
}
