package org.solarmargin.cli.fit;

import org.solarmargin.cli.fit.sweep.FitOptions;
import org.solarmargin.cli.fit.sweep.SweepSet;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.cell.CellParameters;

/** Sweeps fitted together, for people, 80 columns. */
final class SweepSetText {

  private final Lines out;

  SweepSetText(Lines out) {
    this.out = out;
  }

  void print(SweepSet set, FitOptions options) {
    CellParameters cell = set.joint().cell();
    out.blank();
    out.line("Taken together as one array: %d sweeps", set.used().size());
    out.line(
        "%.2f to %.2f suns by their own current, cells at %.1f to %.1f C",
        set.suns(false), set.suns(true), set.celsius(false), set.celsius(true));
    out.rule();
    out.line("%-16s %10.5g W", "Pmp", set.joint().array(1, 25).peakWatts());
    out.line("%-16s %10.4g%s", "n", cell.ideality(), scatter(set.idealityScatter()));
    out.line("%-16s %10.4g ohm%s", "Rs", cell.seriesOhms(), scatter(set.seriesScatter()));
    out.line("%-16s %10.4g ohm", "Rsh", cell.shuntOhms());
    out.line(
        "%-16s %10.4f %% per C, sigma %.3f%s",
        "Voc coefficient",
        100 * set.vocCoeff(),
        100 * set.vocCoeffSd(),
        set.coefficientFound() ? "" : ", " + options.vocCoeffOrigin());
    out.line("At 1000 W/m2 and 25 C, a cell; power of the array.");
    if (set.lightOff()) {
      out.line("Caution: stated light and currents disagree: were light and temperature read with");
      out.line("the sweeps? Each sweep's light is taken from its own current.");
    }
    if (set.coefficientFound()) {
      out.line(
          "Beforehand the coefficient was %.4f, sigma %.3f.",
          100 * options.vocCoeffPerKelvin(), 100 * options.vocCoeffSd());
    }
    out.blank();
  }

  private static String scatter(double value) {
    return Double.isNaN(value)
        ? ""
        : String.format(
            java.util.Locale.ROOT, ", scatters by %.1f %% from sweep to sweep", 100 * value);
  }
}
