package org.solarmargin.cli.fit;

import java.util.List;
import org.solarmargin.cli.fit.sweep.FitOptions;
import org.solarmargin.cli.fit.sweep.SweepSet;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.cell.CellParameters;

/** A joint fit of several sweeps as text of 80 columns. */
final class SweepSetText {

  private final Lines out;

  SweepSetText(Lines out) {
    this.out = out;
  }

  /**
   * Prints a joint fit.
   *
   * @param cautions sentences on an implausible cell
   */
  void print(SweepSet set, FitOptions options, List<String> cautions) {
    CellParameters cell = set.joint().cell();
    out.blank();
    out.line("Fitted together as one array: %d sweeps", set.used().size());
    if (!set.leftOut().isEmpty()) {
      out.line("%d left out of the joint fit:", set.leftOut().size());
      set.leftOut().forEach(reason -> out.text("  " + reason));
    }
    out.line(
        "%.2f to %.2f suns, derived from their currents; cells at %.1f to %.1f C",
        set.suns(false), set.suns(true), set.celsius(false), set.celsius(true));
    out.rule();
    FitCautions.print(cautions, out);
    out.line("%-16s %10.5g W", "Pmp", set.joint().array(1, 25).peakWatts());
    out.line("%-16s %10.4g A%s", "IL", cell.photocurrentAmps(), scatter(set.photocurrentScatter()));
    out.line("%-16s %10.4g%s", "n", cell.ideality(), scatter(set.idealityScatter()));
    out.line("%-16s %10.4g ohm%s", "Rs", cell.seriesOhms(), scatter(set.seriesScatter()));
    out.line("%-16s %10.4g ohm", "Rsh", cell.shuntOhms());
    out.line(
        "%-16s %10.4f %% per C, sigma %.3f%s",
        "Voc coefficient",
        100 * set.vocCoeff(),
        100 * set.vocCoeffSd(),
        set.coefficientFound() ? "" : ", " + options.vocCoeffOrigin());
    out.line("At 1000 W/m2 and 25 C. Parameters are per cell, Pmp is of the array.");
    if (set.lightOff()) {
      out.text("Caution: stated light and currents disagree. Were light and temperature measured");
      out.text("during the sweeps? The light of each is derived from its own current.");
    }
    if (set.coefficientFound()) {
      out.line(
          "Before the fit, the coefficient was %.4f, sigma %.3f.",
          100 * options.vocCoeffPerKelvin(), 100 * options.vocCoeffSd());
    }
    out.blank();
  }

  private static String scatter(double value) {
    return Double.isNaN(value)
        ? ""
        : String.format(java.util.Locale.ROOT, ", scatter of %.1f %% between sweeps", 100 * value);
  }
}
