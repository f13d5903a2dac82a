package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * First power peak from open circuit down of strings in which a few cells have less light than the
 * rest and no bypass diode: what can be flown. It lies just under the current that the dim cells
 * give. Without the shunt, which counts far below the peak alone; within 1 % of whole single-diode
 * curves in series ({@code FirstPeakTest}).
 */
final class FirstPeak {

  /** Straight on below this part of the photocurrent: a dim cell then takes voltage away. */
  private static final double LEAST_ROOM = 0.001;

  private static final double GOLDEN = 0.618;
  private static final int STEPS = 12;
  private static final double LOWEST = 0.5;
  private static final double HIGHEST = 1 - 1e-3;

  private FirstPeak() {}

  /**
   * The peak.
   *
   * @param array with its curve at light and temperature of the bright cells
   * @param dimCells how many in each string
   * @param light theirs over the others', 0 to 1
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
    double room = photo - cellAmps;
    double cell = curve.openCircuitEstimate() + curve.thermalVolts() * Math.log(room / photo);
    double dim = curve.thermalVolts() * logRoom(light * photo - cellAmps, room, photo);
    double volts = array.seriesCells() * (cell - cellAmps * curve.seriesOhms()) + dimCells * dim;
    return volts * cellAmps * array.parallelStrings();
  }

  /**
   * Logarithm of what a cell has left to its photocurrent over what the others have.
   *
   * @param left to the cell, A, any value
   * @param room of the others, A, more than 0
   * @param photo photocurrent of the others, A
   */
  static double logRoom(double left, double room, double photo) {
    double least = LEAST_ROOM * photo;
    return left > least ? Math.log(left / room) : Math.log(least / room) + (left - least) / least;
  }
}
