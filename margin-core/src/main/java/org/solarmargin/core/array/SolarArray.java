package org.solarmargin.core.array;

import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.cell.CellParameters;

/**
 * A uniform array: {@code parallelStrings} strings of {@code seriesCells} equal cells, all under
 * the same light and at the same temperature.
 *
 * <p>Accuracy and ranges are those of {@link CellCurve}. Mutable and allocation-free; one thread at
 * a time.
 */
public final class SolarArray {

  private final int seriesCells;
  private final int parallelStrings;
  private final CellCurve curve;

  /**
   * Creates an array at 1 sun and 25 degrees Celsius.
   *
   * @param cell one cell, not null
   * @param seriesCells cells in each string, 1 to 10000
   * @param parallelStrings strings in parallel, 1 to 10000
   * @throws IllegalArgumentException if a count is out of range
   */
  public SolarArray(CellParameters cell, int seriesCells, int parallelStrings) {
    this.seriesCells = checkCount("seriesCells", seriesCells);
    this.parallelStrings = checkCount("parallelStrings", parallelStrings);
    this.curve = new CellCurve(cell);
  }

  /**
   * Sets light and temperature.
   *
   * @param suns light over 1000 W/m2, 0 to 3
   * @param celsius cell temperature, -60 to 150
   */
  public void set(double suns, double celsius) {
    curve.set(suns, celsius);
  }

  /**
   * Bus voltage at a bus current.
   *
   * @param busAmps A; per string in the range of {@link CellCurve#voltsAt(double)}
   * @return V
   */
  public double voltsAt(double busAmps) {
    return seriesCells * curve.voltsAt(busAmps / parallelStrings);
  }

  /**
   * Bus current at a bus voltage.
   *
   * @param busVolts V
   * @return A
   */
  public double ampsAt(double busVolts) {
    return parallelStrings * curve.ampsAt(busVolts / seriesCells);
  }

  /**
   * Open-circuit voltage.
   *
   * @return V
   */
  public double openCircuitVolts() {
    return seriesCells * curve.openCircuitVolts();
  }

  /**
   * Short-circuit current.
   *
   * @return A
   */
  public double shortCircuitAmps() {
    return parallelStrings * curve.shortCircuitAmps();
  }

  /** Solves for the maximum power point, which the peak methods then return. */
  public void solvePeak() {
    curve.solvePeak();
  }

  /**
   * Bus voltage at the maximum power point of the last {@link #solvePeak()}.
   *
   * @return V
   */
  public double peakVolts() {
    return seriesCells * curve.peakVolts();
  }

  /**
   * Bus current at the maximum power point of the last {@link #solvePeak()}.
   *
   * @return A
   */
  public double peakAmps() {
    return parallelStrings * curve.peakAmps();
  }

  /**
   * Power at the maximum power point of the last {@link #solvePeak()}: the available power.
   *
   * @return W
   */
  public double peakWatts() {
    return peakVolts() * peakAmps();
  }

  /**
   * Cells in each string.
   *
   * @return 1 to 10000
   */
  public int seriesCells() {
    return seriesCells;
  }

  /**
   * Strings in parallel.
   *
   * @return 1 to 10000
   */
  public int parallelStrings() {
    return parallelStrings;
  }

  /**
   * The curve of one cell, shared with this array.
   *
   * @return the curve itself, not a copy: changing it changes the array
   */
  public CellCurve curve() {
    return curve;
  }

  private static int checkCount(String name, int value) {
    if (value < 1 || value > 10_000) {
      throw new IllegalArgumentException(name + " must be in [1, 10000]: " + value);
    }
    return value;
  }
}
