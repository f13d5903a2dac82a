package org.solarmargin.cli.fit;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.fit.sweep.DiodeParameters;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.fit.sweep.SweepSet;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.array.SolarArray;

/** A fitted sweep as text of 80 columns. */
final class FitText {

  private static final String[] UNITS = {"A", "A", "", "ohm", "ohm"};
  private static final double NORMAL_95 = 1.96;

  private final Lines out;

  FitText(PrintWriter out) {
    this.out = new Lines(out);
  }

  /**
   * Prints a fit.
   *
   * @param assumed what was assumed about light and temperature; empty if nothing
   * @param implausible sentences on an implausible cell
   */
  void print(FitResult fit, String assumed, List<String> implausible) {
    Sweep sweep = fit.sweep();
    out.line(
        "%s: %d points, %d in series, %d in parallel, %.0f W/m2, cells at %.1f C",
        sweep.name(),
        sweep.size(),
        sweep.series(),
        sweep.parallel(),
        1000 * sweep.meanSuns(),
        sweep.meanCelsius());
    out.rule();
    if (!assumed.isEmpty()) {
      out.line("Caution: %s.", assumed);
    }
    for (String note : sweep.leftOut()) {
      out.line("Caution: %s.", note);
    }
    if (sweep.meanSuns() < SweepSet.LEAST_SUNS) {
      out.line(
          "Caution: below %.0f W/m2, shunt and ideality differ from those in full sun.",
          1000 * SweepSet.LEAST_SUNS);
    }
    FitCautions.print(implausible, out);
    points(fit);
    parameters(fit);
    correlations(fit);
    out.line("rms error    %.10e A, with the current solved exactly at each voltage", fit.rms());
    out.line(
        "             %.10e A, minimum with the measured current in exp()", fit.approximateRms());
    out.line("Evaluations  %d of the whole curve, over all starts", fit.evaluations());
    out.blank();
    BenchCautions cautions = new BenchCautions(out);
    cautions.cells(fit.array(1, sweep.meanCelsius()).openCircuitVolts());
    cautions.advisory();
  }

  private void points(FitResult fit) {
    Sweep sweep = fit.sweep();
    SolarArray here = fit.array(sweep.meanSuns(), sweep.meanCelsius());
    double[] measured = characteristics(here);
    double[] reference = characteristics(fit.array(1, 25));
    String[] names = {"Isc  A", "Voc  V", "Imp  A", "Vmp  V", "Pmp  W", "fill factor"};
    out.line("%-14s %14s %20s", "", "as measured", "1000 W/m2 and 25 C");
    for (int i = 0; i < names.length; i++) {
      out.line("%-14s %14.5g %20.5g", names[i], measured[i], reference[i]);
    }
    double most = 0;
    for (int i = 0; i < sweep.size(); i++) {
      most = Math.max(most, sweep.volts(i) * sweep.amps(i));
    }
    out.line("%-14s %14.5g", "best point  W", most);
    out.blank();
  }

  /** Isc, Voc, Imp, Vmp, Pmp, fill factor of an array whose peak is solved. */
  static double[] characteristics(SolarArray array) {
    double isc = array.shortCircuitAmps();
    double voc = array.openCircuitVolts();
    return new double[] {
      isc,
      voc,
      array.peakAmps(),
      array.peakVolts(),
      array.peakWatts(),
      array.peakWatts() / (isc * voc)
    };
  }

  private void parameters(FitResult fit) {
    double[] values = fit.values();
    double[] errors = fit.standardErrors();
    double[] reference = fit.referenceValues();
    out.line(
        "%-12s %13s %11s %13s",
        "one cell",
        String.format(Locale.ROOT, "at %.1f C", fit.benchCelsius()),
        "std. error",
        "at 25 C");
    for (int i = 0; i < values.length; i++) {
      out.line(
          "%-12s %13.6g %11.3g %13.6g  %s",
          FitResult.NAMES.get(i) + "  " + UNITS[i],
          values[i],
          errors[i],
          reference[i],
          uncertainty(fit, i));
    }
    out.line(
        "%-12s %13.4f %11.3f   %% per C, %s",
        "Voc coeff.",
        100 * fit.vocCoeff(),
        100 * fit.vocCoeffSd(),
        fit.isFree(DiodeParameters.COEFF) ? "from these points" : fit.options().vocCoeffOrigin());
    out.blank();
  }

  private static String uncertainty(FitResult fit, int i) {
    return switch (FitResult.NAMES.get(i)) {
      case "n" -> word(fit.isFree(DiodeParameters.LOG_N), fit.idealityKnown(), "a usual value");
      case "Rs" -> word(fit.isFree(DiodeParameters.RS), fit.seriesKnown(), "zero, its limit");
      case "Rsh" -> {
        double least = 1 / (fit.theta()[DiodeParameters.G] + NORMAL_95 * fit.sd(DiodeParameters.G));
        boolean free = fit.isFree(DiodeParameters.G);
        String above = String.format(Locale.ROOT, ": above %.3g", least);
        yield word(free, fit.shuntKnown(), "no shunt") + (free && !fit.shuntKnown() ? above : "");
      }
      default -> "";
    };
  }

  private static String word(boolean free, boolean known, String heldAt) {
    if (!free) {
      return "held at " + heldAt + ": not determined by these points";
    }
    return known ? "" : "not determined by these points";
  }

  private void correlations(FitResult fit) {
    double[][] correlations = fit.correlations();
    StringBuilder head = new StringBuilder(String.format(Locale.ROOT, "%-14s", "correlations"));
    for (String name : FitResult.NAMES) {
      head.append(String.format(Locale.ROOT, "%8s", name));
    }
    out.text(head.toString());
    for (int r = 0; r < FitResult.NAMES.size(); r++) {
      StringBuilder row =
          new StringBuilder(String.format(Locale.ROOT, "%-14s", FitResult.NAMES.get(r)));
      for (int c = 0; c < FitResult.NAMES.size(); c++) {
        double value = correlations[r][c];
        row.append(
            Double.isNaN(value)
                ? String.format(Locale.ROOT, "%8s", "-")
                : String.format(Locale.ROOT, "%8.3f", value));
      }
      out.text(row.toString());
    }
    out.blank();
  }
}
