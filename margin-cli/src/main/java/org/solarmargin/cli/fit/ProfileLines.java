package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.Writer;
import java.util.Locale;
import org.solarmargin.cli.fit.rotor.Hover;
import org.solarmargin.cli.fit.sweep.DiodeParameters;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.fit.sweep.SweepSet;
import org.solarmargin.core.cell.CellParameters;

/** Craft profile lines with the results of a fit. */
final class ProfileLines {

  /**
   * Sigma of the ideality, percent, where the points do not determine it and it is held at a
   * typical value: engineering judgement.
   */
  private static final double HELD_IDEALITY_PCT = 10;

  private static final double MOST_PCT = 100;

  /** The least hover throttle that a profile accepts. */
  private static final double LEAST_THROTTLE = 0.05;

  private ProfileLines() {}

  /** The cell of one sweep and its uncertainty. */
  static void cell(FitResult fit, Writer to) throws IOException {
    Sweep sweep = fit.sweep();
    line(to, "# fitted to %s: %d points, rms error %.4g A", sweep.name(), sweep.size(), fit.rms());
    cell(fit, seriesSd(fit), idealitySd(fit), fit.vocCoeffSd(), to);
  }

  /** The cell of several sweeps and its uncertainty. */
  static void cell(SweepSet set, Writer to) throws IOException {
    FitResult joint = set.joint();
    line(
        to,
        "# fitted to %d sweeps together, cells at %.0f to %.0f C: %d points, rms error %.4g A",
        set.used().size(),
        set.celsius(false),
        set.celsius(true),
        joint.sweep().size(),
        joint.rms());
    for (String reason : set.leftOut()) {
      line(to, "# left out: %s", reason);
    }
    double series = Math.max(seriesSd(joint), known(set.seriesScatter()));
    double ideality = Math.max(idealitySd(joint), known(set.idealityScatter()));
    cell(joint, series, ideality, set.vocCoeffSd(), to);
  }

  /** The rotor lines of a hover point from a thrust stand. */
  static void hover(Hover hover, int rotors, String source, Writer to) throws IOException {
    double throttle = Math.min(Math.max(hover.throttle(), LEAST_THROTTLE), 1);
    line(to, "# fitted to %s; replaces the profile's rotor.* lines", source);
    line(to, "rotor.count = %d", rotors);
    line(to, "rotor.hover_throttle = %.4f", throttle);
    line(to, "rotor.hover_power_w = %.5g", hover.watts());
    line(to, "rotor.hover_bus_v = %.5g", hover.volts());
  }

  private static double known(double scatter) {
    return Double.isNaN(scatter) ? 0 : scatter;
  }

  private static double seriesSd(FitResult fit) {
    double ohms = fit.theta()[DiodeParameters.RS];
    return ohms > 0 ? fit.sd(DiodeParameters.RS) / ohms : MOST_PCT / 100;
  }

  private static double idealitySd(FitResult fit) {
    return fit.isFree(DiodeParameters.LOG_N)
        ? fit.sd(DiodeParameters.LOG_N)
        : HELD_IDEALITY_PCT / 100;
  }

  private static void cell(
      FitResult fit, double seriesSd, double idealitySd, double vocCoeffSd, Writer to)
      throws IOException {
    CellParameters cell = fit.cell();
    Sweep sweep = fit.sweep();
    for (String note : sweep.leftOut()) {
      line(to, "# %s", note);
    }
    line(to, "# replaces the profile's cell.* lines; one cell at 1000 W/m2 and 25 deg C");
    line(to, "array.series_cells = %d", sweep.series());
    line(to, "array.parallel_strings = %d", sweep.parallel());
    line(to, "cell.photocurrent_a = %.7g", cell.photocurrentAmps());
    line(to, "cell.saturation_a = %.7g", cell.saturationAmps());
    line(to, "cell.ideality = %.7g", cell.ideality());
    line(to, "cell.series_ohm = %.7g", cell.seriesOhms());
    line(to, "cell.shunt_ohm = %.7g", cell.shuntOhms());
    line(to, "cell.isc_temp_coeff_pct_per_c = %.4g", 100 * cell.photocurrentTempCoeffPerKelvin());
    line(to, "cell.voc_temp_coeff_pct_per_c = %.5g", 100 * cell.vocTempCoeffPerKelvin());
    line(to, "# the coefficient's uncertainty grows with the distance from this temperature");
    line(to, "cell.bench_c = %.4g", cell.benchCelsius());
    line(to, "cell.voc_temp_coeff_sd_pct_per_c = %.3g", 100 * vocCoeffSd);
    line(to, "# standard errors of the fit, but at least the scatter between sweeps of one module");
    line(to, "cell.series_ohm_sd_pct = %.3g", percent(seriesSd, SweepSet.LEAST_SERIES_SD));
    line(to, "cell.ideality_sd_pct = %.3g", percent(idealitySd, SweepSet.LEAST_IDEALITY_SD));
  }

  private static double percent(double sd, double least) {
    return Math.min(100 * Math.max(sd, least), MOST_PCT);
  }

  private static void line(Writer to, String format, Object... values) throws IOException {
    to.write(String.format(Locale.ROOT, format, values));
    to.write('\n');
  }
}
