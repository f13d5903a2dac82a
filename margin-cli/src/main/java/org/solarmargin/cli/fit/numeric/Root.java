package org.solarmargin.cli.fit.numeric;

import org.hipparchus.analysis.UnivariateFunction;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;

/** The root of a function of voltage that changes sign once. */
public final class Root {

  private static final double VOLTS = 1e-12;
  private static final int ORDER = 5;
  private static final int MOST_EVALUATIONS = 500;

  private Root() {}

  public static double of(UnivariateFunction function, double low, double high) {
    return new BracketingNthOrderBrentSolver(VOLTS, ORDER)
        .solve(MOST_EVALUATIONS, function, low, high);
  }
}
