package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.Writer;
import java.util.Locale;
import org.solarmargin.core.cell.CellParameters;

/** Lines of a craft profile that a fit has found. */
final class ProfileLines {

  /**
   * What a bench fit leaves for the air, percent: other temperatures, wiring, flexing cells. Common
   * practice, no source.
   */
  private static final double LEAST_SERIES_PCT = 3;

  private static final double LEAST_IDEALITY_PCT = 0.5;
  private static final double MOST_PCT = 100;

  private ProfileLines() {}

  /** The cell and its uncertainty. */
  static void cell(FitResult fit, Writer to) throws IOException {
    CellParameters cell = fit.cell();
    Sweep sweep = fit.sweep();
    double seriesPct =
        cell.seriesOhms() > 0 ? 100 * fit.sd(Theta.RS) / cell.seriesOhms() : MOST_PCT;
    double idealityPct = fit.isFree(Theta.LOG_N) ? 100 * fit.sd(Theta.LOG_N) : 10;
    line(to, "# fitted to %s: %d points, rms error %.4g A", sweep.name(), sweep.size(), fit.rms());
    line(to, "# in place of the profile's cell.* lines; one cell at 1000 W/m2 and 25 deg C");
    line(to, "array.series_cells = %d", sweep.series());
    line(to, "array.parallel_strings = %d", sweep.parallel());
    line(to, "cell.photocurrent_a = %.7g", cell.photocurrentAmps());
    line(to, "cell.saturation_a = %.7g", cell.saturationAmps());
    line(to, "cell.ideality = %.7g", cell.ideality());
    line(to, "cell.series_ohm = %.7g", cell.seriesOhms());
    line(to, "cell.shunt_ohm = %.7g", cell.shuntOhms());
    line(to, "cell.isc_temp_coeff_pct_per_c = %.4g", 100 * cell.photocurrentTempCoeffPerKelvin());
    line(to, "# standard errors of the fit, and at least what a bench leaves for the air");
    line(to, "cell.series_ohm_sd_pct = %.3g", clamp(seriesPct, LEAST_SERIES_PCT));
    line(to, "cell.ideality_sd_pct = %.3g", clamp(idealityPct, LEAST_IDEALITY_PCT));
  }

  private static double clamp(double pct, double least) {
    return Math.min(Math.max(pct, least), MOST_PCT);
  }

  static void line(Writer to, String format, Object... values) throws IOException {
    to.write(String.format(Locale.ROOT, format, values));
    to.write('\n');
  }
}
