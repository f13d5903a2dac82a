package org.solarmargin.cli.fit.sweep;

import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/**
 * Compares sweeps of equal cells or strings with each other and with the rated values, per cell.
 */
public final class PeerComparison {

  /** Fewest sweeps for a comparison; this and the limits below are engineering judgement. */
  private static final int LEAST_PEERS = 3;

  private static final double MAD_TO_SIGMA = 1.4826;
  private static final double SIGMAS = 3;
  private static final double LEAST_SIGMA = 0.005;
  private static final double LEAST_SHORTFALL = 0.02;

  private final SolarArray rated;
  private final double ratedOhms;
  private final List<FitResult> fits;

  public PeerComparison(CellParameters cell, List<FitResult> fits) {
    this.rated = new SolarArray(cell, 1, 1);
    this.ratedOhms = cell.seriesOhms();
    rated.solvePeak();
    this.fits = List.copyOf(fits);
  }

  public List<FitResult> fits() {
    return fits;
  }

  /** Series resistance of the rated cell, ohm. */
  double ratedOhms() {
    return ratedOhms;
  }

  private static SolarArray cellOf(FitResult fit) {
    SolarArray array = new SolarArray(fit.cell(), 1, 1);
    array.solvePeak();
    return array;
  }

  /** Power at the MPP relative to the rated one, at 1000 W/m2 and 25 C. */
  public double powerRatio(FitResult fit) {
    return cellOf(fit).peakWatts() / rated.peakWatts();
  }

  /** Short-circuit current relative to the rated one; cover, dirt and cracks reduce it. */
  public double currentRatio(FitResult fit) {
    return cellOf(fit).shortCircuitAmps() / rated.shortCircuitAmps();
  }

  public double voltageRatio(FitResult fit) {
    return cellOf(fit).openCircuitVolts() / rated.openCircuitVolts();
  }

  /** Series resistance in excess of the rated one, ohm per cell: soldering, ribbons, leads. */
  public double addedOhms(FitResult fit) {
    return fit.cell().seriesOhms() - ratedOhms;
  }

  /** Share of the MPP power dissipated in the added resistance. */
  public double solderingShare(FitResult fit) {
    SolarArray cell = cellOf(fit);
    return addedOhms(fit) * cell.peakAmps() * cell.peakAmps() / cell.peakWatts();
  }

  /** Whether this sweep underperforms its peers by more than their scatter. */
  public boolean below(FitResult fit) {
    if (fits.size() < LEAST_PEERS) {
      return false;
    }
    double[] ratios = fits.stream().mapToDouble(this::powerRatio).toArray();
    double median = median(ratios);
    double[] off = Arrays.stream(ratios).map(r -> Math.abs(r - median)).toArray();
    double sigma = Math.max(MAD_TO_SIGMA * median(off), LEAST_SIGMA * median);
    double shortfall = median - powerRatio(fit);
    return shortfall > SIGMAS * sigma && shortfall > LEAST_SHORTFALL * median;
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    int middle = sorted.length / 2;
    return sorted.length % 2 == 1 ? sorted[middle] : 0.5 * (sorted[middle - 1] + sorted[middle]);
  }
}
