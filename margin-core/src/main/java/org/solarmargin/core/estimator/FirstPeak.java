package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * First power peak, counted from open circuit, of strings in which a few cells have less light than
 * the rest and no bypass diode: the highest power at which the craft can fly. It lies just below
 * the photocurrent of the dim cells. The shunt is neglected, because it matters only far below the
 * peak; the result is within 1 % of full single-diode curves in series ({@code FirstPeakTest}).
 */
final class FirstPeak {

  /**
   * Diode current, relative to the photocurrent, below which the logarithm is continued by its
   * tangent: the voltage of a dim cell then becomes negative.
   */
  private static final double LEAST_SHARE = 0.001;

  private static final double GOLDEN = 0.618;
  private static final int STEPS = 12;
  private static final double LOWEST = 0.5;
  private static final double HIGHEST = 1 - 1e-3;

  private FirstPeak() {}

  /**
   * Power at the peak.
   *
   * @param array the array, its curve set to light and temperature of the bright cells
   * @param dimCells number of dim cells in each string
   * @param light light on the dim cells over that on the others, 0 to 1
   * @return W
   */
  static double watts(SolarArray array, int dimCells, double light) {
    return power(array, amps(array, dimCells, light), dimCells, light);
  }

  /** Cell current at the peak, A. */
  static double amps(SolarArray array, int dimCells, double light) {
    double photo = array.curve().photocurrentAmps();
    double low = LOWEST * light * photo;
    double high = HIGHEST * light * photo;
    for (int i = 0; i < STEPS; i++) {
      double a = high - GOLDEN * (high - low);
      double b = low + GOLDEN * (high - low);
      if (power(array, a, dimCells, light) < power(array, b, dimCells, light)) {
        low = a;
      } else {
        high = b;
      }
    }
    return 0.5 * (low + high);
  }

  private static double power(SolarArray array, double cellAmps, int dimCells, double light) {
    CellCurve curve = array.curve();
    double photo = curve.photocurrentAmps();
    double diodeAmps = photo - cellAmps;
    double cell = curve.openCircuitEstimate() + curve.thermalVolts() * Math.log(diodeAmps / photo);
    double dim = curve.thermalVolts() * logCurrentRatio(light * photo - cellAmps, diodeAmps, photo);
    double volts = array.seriesCells() * (cell - cellAmps * curve.seriesOhms()) + dimCells * dim;
    return volts * cellAmps * array.parallelStrings();
  }

  /**
   * Logarithm of the ratio of two diode currents, continued linearly for small ones.
   *
   * @param dim diode current of a dim cell, A, any value
   * @param bright diode current of the other cells, A, more than 0
   * @param photo photocurrent of the other cells, A
   */
  static double logCurrentRatio(double dim, double bright, double photo) {
    double least = LEAST_SHARE * photo;
    return dim > least ? Math.log(dim / bright) : Math.log(least / bright) + (dim - least) / least;
  }
}
