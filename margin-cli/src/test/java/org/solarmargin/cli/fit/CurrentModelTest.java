package org.solarmargin.cli.fit;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** The fit's model against the estimator's curve and against finite differences. */
class CurrentModelTest {

  private static final double ROUNDING = 1e-9;
  private static final double DIFFERENCES = 1e-5;
  private static final int[] ALL = {0, 1, 2, 3, 4};
  private static final CellParameters CELL =
      new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005);

  private final double[] theta = Theta.of(CELL, 47);
  private final Sweep sweep = Curves.of(CELL, 48, 2, 0.8, 47, 25, 0, 1);

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void currentsAreThoseOfTheEstimatorsCurve(boolean exact) {
    SolarArray array = new SolarArray(CELL, 48, 2);
    array.set(0.8, 47);
    CurrentModel model = new CurrentModel(sweep, 0.0005, exact, ALL, theta);
    for (int i = 0; i < sweep.size(); i++) {
      assertEquals(array.ampsAt(sweep.volts(i)), model.amps(theta, i), ROUNDING);
    }
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void derivativesAreThoseOfFiniteDifferences(boolean exact) {
    CurrentModel model = new CurrentModel(sweep, 0.0005, exact, ALL, theta);
    RealMatrix jacobian = model.value(MatrixUtils.createRealVector(theta)).getSecond();
    for (int j = 0; j < theta.length; j++) {
      double h = 1e-6 * Math.abs(theta[j]) + 1e-9;
      RealVector up = at(model, j, h);
      RealVector down = at(model, j, -h);
      for (int i = 0; i < sweep.size(); i++) {
        double expected = (up.getEntry(i) - down.getEntry(i)) / (2 * h);
        assertEquals(expected, jacobian.getEntry(i, j), DIFFERENCES * (1 + Math.abs(expected)));
      }
    }
  }

  private RealVector at(CurrentModel model, int j, double by) {
    double[] moved = theta.clone();
    moved[j] += by;
    return model.value(MatrixUtils.createRealVector(moved)).getFirst();
  }
}
