package org.solarmargin.cli.fit.sweep;

import java.util.Comparator;
import java.util.List;

/**
 * Compares the light stated for sweeps of one array with their photocurrents.
 *
 * <p>One sun is defined by the line through the origin, of photocurrent over stated light, from
 * which the currents deviate by the least sum of absolute values. Its slope is the median of the
 * photocurrents per light, weighted by light. A plain median would give a sweep taken under a cloud
 * that passed the sensor the same weight as one in full sun, although an error of the same number
 * of watts per square metre changes its ratio by several times as much.
 */
final class StatedLight {

  /**
   * Largest deviation of stated light from that by the current, relative: two and a half times the
   * scatter above which lights are reported as not belonging to the sweeps, engineering judgement.
   */
  private static final double MOST_OFF = 0.25;

  private static final double ROUNDING = 1e-9;

  private final boolean stated;
  private final double photocurrent;

  /** Compares sweeps, which must have photocurrents that belong to the same temperature. */
  StatedLight(List<FitResult> fits) {
    double first = fits.get(0).sweep().meanSuns();
    stated = fits.stream().anyMatch(fit -> fit.sweep().meanSuns() != first);
    photocurrent = weightedMedian(fits);
  }

  private static double amps(FitResult fit) {
    return fit.cell().photocurrentAmps();
  }

  private static double weightedMedian(List<FitResult> fits) {
    List<FitResult> sorted =
        fits.stream().sorted(Comparator.comparingDouble(StatedLight::amps)).toList();
    double half = fits.stream().mapToDouble(fit -> fit.sweep().meanSuns()).sum() / 2;
    double below = 0;
    for (int i = 0; i < sorted.size() - 1; i++) {
      below += sorted.get(i).sweep().meanSuns();
      if (Math.abs(below - half) <= ROUNDING * half) {
        return 0.5 * (amps(sorted.get(i)) + amps(sorted.get(i + 1)));
      }
      if (below > half) {
        return amps(sorted.get(i));
      }
    }
    return amps(sorted.get(sorted.size() - 1));
  }

  /** Whether each sweep has a light of its own; otherwise, there is nothing to contradict. */
  boolean stated() {
    return stated;
  }

  /** Photocurrent of a cell at one sun and 25 C, A. */
  double photocurrent() {
    return photocurrent;
  }

  /** Light of a sweep by its photocurrent, suns. */
  double suns(FitResult fit) {
    return fit.sweep().meanSuns() * amps(fit) / photocurrent;
  }

  /** Whether the stated light of a sweep contradicts that of the others. */
  boolean contradicts(FitResult fit) {
    return stated && Math.abs(Math.log(amps(fit) / photocurrent)) > Math.log1p(MOST_OFF);
  }
}
