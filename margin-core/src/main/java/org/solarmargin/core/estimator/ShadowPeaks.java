package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * First power peaks of the array under every hypothesis of a shadow: some cells of each string with
 * some light less than the rest.
 *
 * <p>Where a peak stands relative to the photocurrent hardly moves with light and temperature, and
 * the power at a peak is flat in the current. So the places are searched once, at construction, and
 * the power there follows from the present curve without a logarithm; within 0.2 % of a search at
 * that curve from 0.3 to 1.2 suns and from 10 to 75 C ({@code ShadowPeaksTest}).
 */
final class ShadowPeaks {

  /** Depths of shadow for each number of cells. */
  static final int DEPTHS = 13;

  /** Cells of each string that a shadow takes. */
  private static final int[] CELLS = {1, 2, 4, 8};

  static final int COUNTS = CELLS.length;
  static final int SHADOWS = DEPTHS * COUNTS;

  /** Light of the dim cells over the others': the deepest shadow leaves 0.35. */
  static final double DEPTH_STEP = 0.05;

  private static final double SEARCH_SUNS = 0.9;
  private static final double SEARCH_CELSIUS = 45;

  private final SolarArray array;
  private final float[] part = new float[SHADOWS];

  /** Sum over the cells of a string of the logarithm of what each has left. */
  private final float[] logs = new float[SHADOWS];

  private double photo;
  private double openVolts;
  private double thermalVolts;
  private double seriesVolts;

  /**
   * Searches the peaks.
   *
   * @param array its curve is moved
   */
  ShadowPeaks(SolarArray array) {
    this.array = array;
    CellCurve curve = array.curve();
    curve.set(SEARCH_SUNS, SEARCH_CELSIUS);
    for (int j = 0; j < SHADOWS; j++) {
      double light = light(j % DEPTHS);
      double at = FirstPeak.amps(array, cells(j), light) / curve.photocurrentAmps();
      part[j] = (float) at;
      double dim = FirstPeak.logRoom(light - at, 1 - at, 1);
      logs[j] = (float) (array.seriesCells() * Math.log(1 - at) + cells(j) * dim);
    }
    take(curve);
  }

  /** Light of the dim cells over the others'. */
  static double light(int depth) {
    return 1 - (depth + 1) * DEPTH_STEP;
  }

  /** How many cells of each string a hypothesis has in the shadow. */
  static int cells(int hypothesis) {
    return CELLS[hypothesis / DEPTHS];
  }

  /** Takes the curve of the cells that are not in the shadow. */
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
