package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * First power peaks of the array under every hypothesis of a shadow, in which some cells of each
 * string have less light than the rest.
 *
 * <p>The current at a peak relative to the photocurrent depends little on light and temperature,
 * and the power is flat in the current at the peak. The relative currents are therefore searched
 * once, at construction, and the power there follows from the present curve without a logarithm; it
 * is within 0.2 % of a search on that curve from 0.3 to 1.2 suns and from 10 to 75 degrees Celsius
 * ({@code ShadowPeaksTest}).
 */
final class ShadowPeaks {

  /** Number of depths of shadow for each number of cells. */
  static final int DEPTHS = 13;

  /** Numbers of cells of each string in the shadow. */
  private static final int[] CELLS = {1, 3, 8};

  static final int COUNTS = CELLS.length;
  static final int SHADOWS = DEPTHS * COUNTS;

  /** Step of the ratio of the light on the dim cells to that on the others; the least is 0.35. */
  static final double DEPTH_STEP = 0.05;

  private static final double SEARCH_SUNS = 0.9;
  private static final double SEARCH_CELSIUS = 45;

  private final SolarArray array;
  private final float[] part = new float[SHADOWS];

  /** Sum over the cells of a string of the logarithm of the diode current over the photocurrent. */
  private final float[] logs = new float[SHADOWS];

  private double photo;
  private double openVolts;
  private double thermalVolts;
  private double seriesVolts;

  /**
   * Searches for the peaks.
   *
   * @param array the array, whose curve is changed
   */
  ShadowPeaks(SolarArray array) {
    this.array = array;
    CellCurve curve = array.curve();
    curve.set(SEARCH_SUNS, SEARCH_CELSIUS);
    for (int j = 0; j < SHADOWS; j++) {
      double light = light(j % DEPTHS);
      double at = FirstPeak.amps(array, cells(j), light) / curve.photocurrentAmps();
      part[j] = (float) at;
      double dim = FirstPeak.logCurrentRatio(light - at, 1 - at, 1);
      logs[j] = (float) (array.seriesCells() * Math.log(1 - at) + cells(j) * dim);
    }
    take(curve);
  }

  /** Ratio of the light on the dim cells to that on the others. */
  static double light(int depth) {
    return 1 - (depth + 1) * DEPTH_STEP;
  }

  /** Number of cells of each string in the shadow under a hypothesis. */
  static int cells(int hypothesis) {
    return CELLS[hypothesis / DEPTHS];
  }

  /** Sets the curve of the cells that are not in the shadow. */
  void take(CellCurve curve) {
    photo = curve.photocurrentAmps();
    openVolts = curve.openCircuitEstimate();
    thermalVolts = curve.thermalVolts();
    seriesVolts = photo * curve.seriesOhms();
  }

  /** First power peak, W. */
  double watts(int hypothesis) {
    double at = part[hypothesis];
    double volts = array.seriesCells() * (openVolts - at * seriesVolts);
    return (volts + thermalVolts * logs[hypothesis]) * at * photo * array.parallelStrings();
  }
}
