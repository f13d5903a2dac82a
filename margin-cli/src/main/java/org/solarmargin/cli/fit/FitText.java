package org.solarmargin.cli.fit;

import java.io.PrintWriter;
import java.util.Locale;
import org.hipparchus.linear.RealMatrix;
import org.solarmargin.core.array.SolarArray;

/** A fitted sweep for people, 80 columns. */
final class FitText {

  private static final String[] UNITS = {"A", "A", "", "ohm", "ohm"};
  private static final double NORMAL_95 = 1.96;

  private final PrintWriter out;

  FitText(PrintWriter out) {
    this.out = out;
  }

  void print(FitResult fit, String assumed) {
    Sweep sweep = fit.sweep();
    line(
        "%s: %d points, %d in series, %d in parallel, %.0f W/m2, cells at %.1f C",
        sweep.name(),
        sweep.size(),
        sweep.series(),
        sweep.parallel(),
        1000 * sweep.meanSuns(),
        sweep.meanCelsius());
    out.println("-".repeat(78));
    if (!assumed.isEmpty()) {
      line("Caution: %s.", assumed);
    }
    points(fit);
    parameters(fit);
    correlations(fit);
    line("rms error    %.10e A, of the current solved exactly at each voltage", fit.rms());
    line(
        "             %.10e A, measured current inside the exponential, own optimum",
        fit.approximateRms());
    line("Evaluations  %d of the whole curve, all starts together", fit.evaluations());
    out.println();
    line("Bench figures, advisory and not certified. Resistors burn; cells are sharp.");
  }

  private void points(FitResult fit) {
    Sweep sweep = fit.sweep();
    SolarArray here = fit.array(sweep.meanSuns(), sweep.meanCelsius());
    double[] measured = characteristics(here);
    double[] reference = characteristics(fit.array(1, 25));
    String[] names = {"Isc  A", "Voc  V", "Imp  A", "Vmp  V", "Pmp  W", "fill factor"};
    line("%-14s %14s %20s", "", "as measured", "1000 W/m2 and 25 C");
    for (int i = 0; i < names.length; i++) {
      line("%-14s %14.5g %20.5g", names[i], measured[i], reference[i]);
    }
    double most = 0;
    for (int i = 0; i < sweep.size(); i++) {
      most = Math.max(most, sweep.volts(i) * sweep.amps(i));
    }
    line("%-14s %14.5g", "best point  W", most);
    out.println();
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
    RealMatrix covariance = fit.valueCovariance();
    line("%-14s %14s %14s   %s", "one cell", "value", "std. error", "at 1000 W/m2 and 25 C");
    for (int i = 0; i < values.length; i++) {
      double sd = Math.sqrt(Math.max(covariance.getEntry(i, i), 0));
      line(
          "%-14s %14.6g %14.3g   %s",
          FitResult.NAMES[i] + "  " + UNITS[i], values[i], sd, doubt(fit, i));
    }
    out.println();
  }

  private static String doubt(FitResult fit, int i) {
    return switch (FitResult.NAMES[i]) {
      case "n" -> word(fit.isFree(Theta.LOG_N), fit.idealityKnown(), "a usual value");
      case "Rs" -> word(fit.isFree(Theta.RS), fit.seriesKnown(), "zero, its limit");
      case "Rsh" -> {
        double least = 1 / (fit.theta()[Theta.G] + NORMAL_95 * fit.sd(Theta.G));
        boolean free = fit.isFree(Theta.G);
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
    RealMatrix covariance = fit.valueCovariance();
    StringBuilder head = new StringBuilder(String.format(Locale.ROOT, "%-14s", "correlations"));
    for (String name : FitResult.NAMES) {
      head.append(String.format(Locale.ROOT, "%8s", name));
    }
    out.println(head);
    for (int r = 0; r < FitResult.NAMES.length; r++) {
      StringBuilder row =
          new StringBuilder(String.format(Locale.ROOT, "%-14s", FitResult.NAMES[r]));
      for (int c = 0; c < FitResult.NAMES.length; c++) {
        double product = covariance.getEntry(r, r) * covariance.getEntry(c, c);
        row.append(
            product > 0
                ? String.format(
                    Locale.ROOT, "%8.3f", covariance.getEntry(r, c) / Math.sqrt(product))
                : String.format(Locale.ROOT, "%8s", "-"));
      }
      out.println(row);
    }
    out.println();
  }

  private void line(String format, Object... values) {
    out.println(String.format(Locale.ROOT, format, values).stripTrailing());
  }
}
