package org.solarmargin.cli.fit.sweep;

import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Sweeps of equal cells or strings beside each other and beside what was promised, per cell. */
public final class PeerComparison {

  private static final int LEAST_PEERS = 3;
  private static final double MAD_TO_SIGMA = 1.4826;
  private static final double SIGMAS = 3;
  private static final double LEAST_SIGMA = 0.005;
  private static final double LEAST_SHORTFALL = 0.02;

  private final SolarArray promised;
  private final double promisedOhms;
  private final List<FitResult> fits;

  public PeerComparison(CellParameters promise, List<FitResult> fits) {
    this.promised = new SolarArray(promise, 1, 1);
    this.promisedOhms = promise.seriesOhms();
    promised.solvePeak();
    this.fits = List.copyOf(fits);
  }

  public List<FitResult> fits() {
    return fits;
  }

  /** Series resistance of the promised cell, ohm. */
  double promisedOhms() {
    return promisedOhms;
  }

  private static SolarArray cellOf(FitResult fit) {
    SolarArray array = new SolarArray(fit.cell(), 1, 1);
    array.solvePeak();
    return array;
  }

  /** Power at the MPP over the promised one, at 1000 W/m2 and 25 C. */
  public double powerRatio(FitResult fit) {
    return cellOf(fit).peakWatts() / promised.peakWatts();
  }

  /** Short-circuit current over the promised one: what cover, dirt and cracks leave. */
  public double currentRatio(FitResult fit) {
    return cellOf(fit).shortCircuitAmps() / promised.shortCircuitAmps();
  }

  public double voltageRatio(FitResult fit) {
    return cellOf(fit).openCircuitVolts() / promised.openCircuitVolts();
  }

  /** Series resistance over the promised one, ohm a cell: soldering, ribbons, leads. */
  public double addedOhms(FitResult fit) {
    return fit.cell().seriesOhms() - promisedOhms;
  }

  /** Share of the MPP power that the added resistance takes. */
  public double solderingShare(FitResult fit) {
    SolarArray cell = cellOf(fit);
    return addedOhms(fit) * cell.peakAmps() * cell.peakAmps() / cell.peakWatts();
  }

  /** Whether this sweep's power stays below its peers' by more than they scatter. */
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
