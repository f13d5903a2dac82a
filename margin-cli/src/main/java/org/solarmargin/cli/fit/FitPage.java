package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.report.ChartSpec;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.core.array.SolarArray;

/** The page of a fitted sweep. */
final class FitPage {

  private static final int CURVE_POINTS = 200;

  private final FitResult fit;
  private final List<String> implausible;
  private final Sweep sweep;
  private final Html html = new Html();

  /**
   * The page of a fit.
   *
   * @param implausible sentences on an implausible cell
   */
  FitPage(FitResult fit, List<String> implausible) {
    this.fit = fit;
    this.implausible = implausible;
    this.sweep = fit.sweep();
  }

  void write(Writer to) throws IOException {
    SolarArray here = fit.array(sweep.meanSuns(), sweep.meanCelsius());
    html.element(
        "p class=\"over\"",
        String.format(
            java.util.Locale.ROOT,
            "%s: %d points, %d cells in series, %d in parallel, %.0f W/m2, cells at %.1f \u00b0C",
            sweep.name(),
            sweep.size(),
            sweep.series(),
            sweep.parallel(),
            1000 * sweep.meanSuns(),
            sweep.meanCelsius()));
    html.raw(
        "<h1>"
            + Html.cell(
                "%.4g W at the knee, %.4g V and %.4g A",
                here.peakWatts(), here.peakVolts(), here.peakAmps())
            + "</h1>");
    html.element(
        "p class=\"least\"",
        String.format(
            java.util.Locale.ROOT,
            "%.4g W at 1000 W/m2 and 25 \u00b0C; rms error %.3g A",
            fit.array(1, 25).peakWatts(),
            fit.rms()));
    implausible.forEach(caution -> html.element("p class=\"least\"", "Caution: " + caution));
    Page.safetyOf(html);
    html.chart(
        "curve-fit",
        "Current over voltage",
        List.of(
            Html.key("fitted", "power", "line"),
            Html.key("measured", "load", "ring"),
            Html.key("knee", "second", "ring")),
        "The fitted curve through the measured points, with the knee");
    html.raw("<p class=\"over\" id=\"curve-fit-at\">&nbsp;</p>");
    html.chart(
        "residuals",
        "Fitted minus measured, mA",
        List.of(Html.key("residual", "load", "ring")),
        "Residual of the fit at each point");
    html.raw("<p class=\"over\" id=\"residuals-at\">&nbsp;</p>");
    figures(here);
    parameters();
    Page.write(
        to, sweep.name() + " - fit", html, ChartSpec.data(List.of(curve(here), residuals())));
  }

  private ChartSpec curve(SolarArray here) {
    ChartSpec chart = new ChartSpec("curve-fit", 320, "voltage, V", "current, A", false);
    int fitted = chart.curve("fitted", "--power");
    int measured = chart.dots("measured", "--load", 6, false);
    int knee = chart.dots("knee", "--second", 13, false);
    double end = Math.max(here.openCircuitVolts(), sweep.mostVolts());
    for (int i = 0; i <= CURVE_POINTS; i++) {
      double volts = end * i / CURVE_POINTS;
      chart.put(fitted, volts, here.ampsAt(volts));
    }
    for (int i = 0; i < sweep.size(); i++) {
      chart.put(measured, sweep.volts(i), sweep.amps(i));
    }
    chart.put(knee, here.peakVolts(), here.peakAmps());
    return chart;
  }

  private ChartSpec residuals() {
    ChartSpec chart = new ChartSpec("residuals", 180, "voltage, V", "residual, mA", false);
    int dots = chart.dots("residual", "--load", 6, false);
    for (int i = 0; i < sweep.size(); i++) {
      chart.put(dots, sweep.volts(i), 1000 * fit.residual(i));
    }
    return chart;
  }

  private void figures(SolarArray here) {
    html.element("h2", "Figures");
    double[] measured = FitText.characteristics(here);
    double[] reference = FitText.characteristics(fit.array(1, 25));
    String[] names = {"Isc, A", "Voc, V", "Imp, A", "Vmp, V", "Pmp, W", "fill factor"};
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < names.length; i++) {
      rows.add(List.of(names[i], Html.cell("%.5g", measured[i]), Html.cell("%.5g", reference[i])));
    }
    html.table(
        "Characteristic figures",
        List.of("figure", ">as measured", ">1000 W/m2, 25 \u00b0C"),
        rows);
  }

  private void parameters() {
    html.element(
        "h2",
        String.format(
            java.util.Locale.ROOT, "One cell at 1000 W/m2 and %.1f \u00b0C", fit.benchCelsius()));
    double[] errors = fit.standardErrors();
    double[][] correlations = fit.correlations();
    double[] values = fit.values();
    String[] units = {"A", "A", "", "ohm", "ohm"};
    List<String> heads = new ArrayList<>(List.of("parameter", ">value", ">std. error"));
    for (String name : FitResult.NAMES) {
      heads.add(">corr. " + name);
    }
    List<List<String>> rows = new ArrayList<>();
    for (int r = 0; r < values.length; r++) {
      List<String> row = new ArrayList<>();
      row.add(Html.safe((FitResult.NAMES.get(r) + " " + units[r]).strip()));
      row.add(Html.cell("%.5g", values[r]));
      row.add(Html.cell("%.2g", errors[r]));
      for (int c = 0; c < values.length; c++) {
        double value = correlations[r][c];
        row.add(Double.isNaN(value) ? "-" : Html.cell("%.3f", value));
      }
      rows.add(row);
    }
    html.table("Parameters with standard errors and correlations", heads, rows);
  }
}
