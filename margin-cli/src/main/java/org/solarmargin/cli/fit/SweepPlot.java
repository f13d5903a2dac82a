package org.solarmargin.cli.fit;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.geom.Ellipse2D;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import org.jfree.chart.ChartUtils;
import org.jfree.chart.JFreeChart;
import org.jfree.chart.annotations.XYTextAnnotation;
import org.jfree.chart.axis.NumberAxis;
import org.jfree.chart.plot.CombinedDomainXYPlot;
import org.jfree.chart.plot.ValueMarker;
import org.jfree.chart.plot.XYPlot;
import org.jfree.chart.renderer.xy.XYLineAndShapeRenderer;
import org.jfree.chart.ui.TextAnchor;
import org.jfree.data.xy.XYSeries;
import org.jfree.data.xy.XYSeriesCollection;
import org.solarmargin.cli.text.WholeFile;
import org.solarmargin.core.array.SolarArray;

/** Points, fitted curve and knee above, residuals below, as a PNG picture. */
final class SweepPlot {

  private static final int WIDTH = 1000;
  private static final int HEIGHT = 720;
  private static final int CURVE_POINTS = 300;
  private static final Color POINTS = new Color(0xb3, 0x47, 0x00);
  private static final Color CURVE = new Color(0x00, 0x5f, 0x99);

  private SweepPlot() {}

  /** Draws; the picture appears whole or not at all. */
  static void write(FitResult fit, Path file) throws IOException {
    System.setProperty("java.awt.headless", "true");
    // encoded first: the encoder would hide why a file cannot be written
    ByteArrayOutputStream picture = new ByteArrayOutputStream();
    ChartUtils.writeChartAsPNG(picture, chart(fit), WIDTH, HEIGHT);
    WholeFile.write(file, to -> picture.writeTo(to.stream()));
  }

  private static JFreeChart chart(FitResult fit) {
    Sweep sweep = fit.sweep();
    XYSeries points = new XYSeries("measured", true, true);
    XYSeries residuals = new XYSeries("residuals", true, true);
    for (int i = 0; i < sweep.size(); i++) {
      points.add(sweep.volts(i), sweep.amps(i));
      residuals.add(sweep.volts(i), 1000 * fit.residual(i));
    }
    SolarArray array = fit.array(sweep.meanSuns(), sweep.meanCelsius());
    XYSeries curve = new XYSeries("fitted, at mean light and temperature");
    double open = Math.max(array.openCircuitVolts(), sweep.mostVolts());
    for (int k = 0; k <= CURVE_POINTS; k++) {
      double volts = open * k / CURVE_POINTS;
      curve.add(volts, array.ampsAt(volts));
    }
    XYSeriesCollection above = new XYSeriesCollection();
    above.addSeries(points);
    above.addSeries(curve);
    XYLineAndShapeRenderer both = new XYLineAndShapeRenderer();
    dots(both, 0);
    both.setSeriesLinesVisible(1, true);
    both.setSeriesShapesVisible(1, false);
    both.setSeriesPaint(1, CURVE);
    both.setSeriesStroke(1, new BasicStroke(2));
    NumberAxis volts = new NumberAxis("voltage, V");
    XYPlot top = new XYPlot(above, null, new NumberAxis("current, A"), both);
    ValueMarker knee = new ValueMarker(array.peakVolts());
    knee.setPaint(Color.DARK_GRAY);
    knee.setStroke(
        new BasicStroke(
            1.2f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_BEVEL, 0, new float[] {5, 4}, 0));
    top.addDomainMarker(knee);
    XYTextAnnotation label =
        new XYTextAnnotation(
            String.format(java.util.Locale.ROOT, "knee %.4g W  ", array.peakWatts()),
            array.peakVolts(),
            0.1 * array.shortCircuitAmps());
    label.setTextAnchor(TextAnchor.CENTER_RIGHT);
    label.setFont(label.getFont().deriveFont(13f));
    top.addAnnotation(label);
    XYLineAndShapeRenderer below = new XYLineAndShapeRenderer();
    dots(below, 0);
    below.setSeriesVisibleInLegend(0, false);
    XYPlot bottom =
        new XYPlot(
            new XYSeriesCollection(residuals),
            null,
            new NumberAxis("fitted - measured, mA"),
            below);
    bottom.addRangeMarker(new ValueMarker(0, Color.DARK_GRAY, new BasicStroke(1)));
    CombinedDomainXYPlot plot = new CombinedDomainXYPlot(volts);
    plot.setGap(14);
    for (XYPlot part : new XYPlot[] {top, bottom}) {
      part.setBackgroundPaint(Color.WHITE);
      part.setDomainGridlinePaint(Color.LIGHT_GRAY);
      part.setRangeGridlinePaint(Color.LIGHT_GRAY);
    }
    plot.add(top, 3);
    plot.add(bottom, 1);
    JFreeChart chart = new JFreeChart(sweep.name(), plot);
    chart.setBackgroundPaint(Color.WHITE);
    return chart;
  }

  private static void dots(XYLineAndShapeRenderer renderer, int series) {
    renderer.setSeriesLinesVisible(series, false);
    renderer.setSeriesShapesVisible(series, true);
    renderer.setSeriesShape(series, new Ellipse2D.Double(-3, -3, 6, 6));
    renderer.setSeriesPaint(series, POINTS);
  }
}
