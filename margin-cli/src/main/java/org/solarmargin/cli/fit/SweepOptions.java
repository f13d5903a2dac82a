package org.solarmargin.cli.fit;

import java.nio.file.Path;
import org.solarmargin.cli.fit.sweep.FitOptions;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** What is known about a sweep besides its points. */
final class SweepOptions {

  @Option(
      names = "--series",
      required = true,
      paramLabel = "N",
      description = "cells in series, 1 to 10000")
  private int series;

  @Option(
      names = "--parallel",
      defaultValue = "1",
      paramLabel = "M",
      description = "strings in parallel (default: ${DEFAULT-VALUE})")
  private int parallel;

  @Mixin private Conditions conditions;

  @Option(
      names = "--isc-coeff",
      paramLabel = "PCT",
      description = "change of Isc, percent per C (default: 0.05)")
  private Double iscCoeff;

  @Option(
      names = "--voc-coeff",
      paramLabel = "PCT",
      description =
          "change of Voc from the cell's data sheet, percent per C (default: -0.33); sweeps at"
              + " several temperatures improve it")
  private Double vocCoeff;

  @Option(
      names = "--voc-coeff-sd",
      paramLabel = "PCT",
      description =
          "sigma of --voc-coeff, percent per C (default: 0.02 if it is given, 0.05 if not)")
  private Double vocCoeffSd;

  @Option(
      names = "--light-drift",
      defaultValue = "0",
      paramLabel = "PCT",
      description = "sigma of the light at each point, percent, if it drifted during the sweep")
  private double lightDrift;

  @Option(
      names = "--current-noise",
      paramLabel = "A",
      description = "sigma of a current reading, A (default: 0.2 %% of the largest)")
  private Double currentNoise;

  /** Options, filled in by picocli. */
  SweepOptions() {}

  /** A rule broken by the options; null if none is. */
  String fault() {
    if (series < 1 || series > 10_000 || parallel < 1 || parallel > 10_000) {
      return "--series and --parallel must be in [1, 10000]";
    }
    if (!(lightDrift >= 0 && lightDrift <= 50)) {
      return "--light-drift must be in [0, 50] percent: " + lightDrift;
    }
    if (currentNoise != null && !(currentNoise > 0)) {
      return "--current-noise must be > 0 A: " + currentNoise;
    }
    if (iscCoeff != null && !(Math.abs(iscCoeff) <= 1)) {
      return "--isc-coeff must be within +-1 percent per C: " + iscCoeff;
    }
    if (vocCoeff != null && !(vocCoeff >= -1 && vocCoeff <= -0.05)) {
      return "--voc-coeff must be in [-1, -0.05] percent per C: " + vocCoeff;
    }
    if (vocCoeffSd != null && !(vocCoeffSd >= 0 && vocCoeffSd <= 0.5)) {
      return "--voc-coeff-sd must be in [0, 0.5] percent per C: " + vocCoeffSd;
    }
    return conditions.fault();
  }

  Sweep read(Path file) {
    return conditions.read(file, series, parallel);
  }

  FitOptions fit() {
    FitOptions usual = FitOptions.DEFAULT;
    double sd = vocCoeff == null ? usual.vocCoeffSd() : CellSpread.STATED_VOC_COEFF_SD;
    return new FitOptions(
        iscCoeff == null ? usual.iscCoeffPerKelvin() : iscCoeff / 100,
        vocCoeff == null ? usual.vocCoeffPerKelvin() : vocCoeff / 100,
        vocCoeffSd == null ? sd : vocCoeffSd / 100,
        lightDrift / 100,
        currentNoise == null ? Double.NaN : currentNoise);
  }

  /** The assumptions made, human-readable; empty if there are none. */
  String assumed(Sweep sweep) {
    return conditions.assumed(sweep);
  }
}
