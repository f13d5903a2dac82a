package org.solarmargin.cli.fit.numeric;

import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.QRDecomposition;
import org.hipparchus.linear.RealMatrix;

/** Normal equations with two or three unknowns. */
public final class NormalEquations {

  private NormalEquations() {}

  /**
   * Solves for the first unknowns.
   *
   * @param m rows of the normal matrix, right side in the last column
   * @param size number of unknowns to solve for
   * @return null if the matrix is singular
   */
  public static double[] solve(double[][] m, int size) {
    RealMatrix left = MatrixUtils.createRealMatrix(size, size);
    double[] right = new double[size];
    for (int r = 0; r < size; r++) {
      double scale = Math.sqrt(m[r][r]);
      for (int c = 0; c < size; c++) {
        left.setEntry(r, c, m[r][c] / (scale * Math.sqrt(m[c][c])));
      }
      right[r] = m[r][m[r].length - 1] / scale;
    }
    try {
      double[] x =
          new QRDecomposition(left, 1e-14)
              .getSolver()
              .solve(MatrixUtils.createRealVector(right))
              .toArray();
      for (int r = 0; r < size; r++) {
        x[r] /= Math.sqrt(m[r][r]);
      }
      return x;
    } catch (MathRuntimeException e) {
      return null;
    }
  }
}
