package org.solarmargin.cli.fit;

import java.nio.file.Path;
import org.solarmargin.cli.fit.sweep.Sweep;
import picocli.CommandLine.Option;

/** Light and temperature during a sweep, where its file does not state them. */
final class Conditions {

  private static final double REFERENCE_CELSIUS = 25;
  private static final double REFERENCE_IRRADIANCE = 1000;

  @Option(
      names = "--cell-c",
      paramLabel = "T",
      description = "cell temperature, C, where the file has no cell_c (default: 25)")
  private Double cellCelsius;

  @Option(
      names = "--irradiance",
      paramLabel = "W_M2",
      description = "light, W/m2, where the file has no irradiance_w_m2 (default: 1000)")
  private Double irradiance;

  /** Options, filled in by picocli. */
  Conditions() {}

  /** A rule broken by the options; null if none is. */
  String fault() {
    if (irradiance != null && !(irradiance >= 10 && irradiance <= 2500)) {
      return "--irradiance must be in [10, 2500] W/m2: " + irradiance;
    }
    if (cellCelsius != null && !(cellCelsius >= -50 && cellCelsius <= 130)) {
      return "--cell-c must be in [-50, 130] C: " + cellCelsius;
    }
    return null;
  }

  Sweep read(Path file, int series, int parallel) {
    return Sweep.read(
        file,
        series,
        parallel,
        irradiance == null ? REFERENCE_IRRADIANCE : irradiance,
        cellCelsius == null ? REFERENCE_CELSIUS : cellCelsius);
  }

  /** The assumptions made, human-readable; empty if there are none. */
  String assumed(Sweep sweep) {
    boolean light = irradiance == null && sweep.meanSuns() == 1 && sweep.sunsSpread() == 0;
    boolean heat = cellCelsius == null && sweep.meanCelsius() == REFERENCE_CELSIUS;
    if (light && heat) {
      return "1000 W/m2 and 25 C are assumed: give --irradiance and --cell-c";
    }
    if (light) {
      return "1000 W/m2 is assumed: give --irradiance";
    }
    return heat ? "25 C is assumed: give --cell-c" : "";
  }
}
