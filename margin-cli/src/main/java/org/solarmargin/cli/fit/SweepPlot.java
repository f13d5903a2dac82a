package org.solarmargin.cli.fit;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.knowm.xchart.AnnotationLine;
import org.knowm.xchart.AnnotationText;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.style.Styler.LegendPosition;
import org.knowm.xchart.style.XYStyler;
import org.knowm.xchart.style.markers.SeriesMarkers;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.core.array.SolarArray;

/**
 * A PNG picture with points, fitted curve and knee above and residuals below, over one voltage
 * axis.
 */
final class SweepPlot {

  private static final int WIDTH = 1000;
  private static final int CURVE_HEIGHT = 480;
  private static final int RESIDUALS_HEIGHT = 240;
  private static final int CURVE_POINTS = 300;

  /**
   * Width of title and labels of the vertical axes, pixels: enough for "-1,000". It is equal in
   * both charts so that their voltage axes are aligned.
   */
  private static final int LABEL_WIDTH = 85;

  // contrast on white: 5.5 and 6.8 to 1 (WCAG 2.1, 1.4.11, requires 3 to 1)
  private static final Color POINTS = new Color(0xb3, 0x47, 0x00);
  private static final Color CURVE = new Color(0x00, 0x5f, 0x99);

  private SweepPlot() {}

  /** Draws the picture, which is written completely or not at all. */
  static void write(FitResult fit, Path file) throws IOException {
    System.setProperty("java.awt.headless", "true");
    // encoded in memory first: ImageIO hides the reason why a file cannot be written
    ByteArrayOutputStream picture = new ByteArrayOutputStream();
    ImageIO.write(picture(fit), "png", picture);
    AtomicFile.write(file, to -> picture.writeTo(to.stream()));
  }

  private static BufferedImage picture(FitResult fit) {
    SolarArray array = fit.array(fit.sweep().meanSuns(), fit.sweep().meanCelsius());
    double last = Math.max(array.openCircuitVolts(), fit.sweep().mostVolts());
    BufferedImage picture =
        new BufferedImage(WIDTH, CURVE_HEIGHT + RESIDUALS_HEIGHT, BufferedImage.TYPE_INT_RGB);
    Graphics2D to = picture.createGraphics();
    to.setRenderingHint(RenderingHints.KEY_STROKE_CONTROL, RenderingHints.VALUE_STROKE_PURE);
    curve(fit.sweep(), array, last).paint(to, WIDTH, CURVE_HEIGHT);
    to.translate(0, CURVE_HEIGHT);
    residuals(fit, last).paint(to, WIDTH, RESIDUALS_HEIGHT);
    to.dispose();
    return picture;
  }

  private static XYChart curve(Sweep sweep, SolarArray array, double last) {
    XYChart chart = chart(CURVE_HEIGHT, "current, A", last);
    chart.setTitle(sweep.name());
    double[] volts = new double[CURVE_POINTS + 1];
    double[] amps = new double[CURVE_POINTS + 1];
    for (int k = 0; k <= CURVE_POINTS; k++) {
      volts[k] = last * k / CURVE_POINTS;
      amps[k] = array.ampsAt(volts[k]);
    }
    chart
        .addSeries("fitted, at mean light and temperature", volts, amps)
        .setMarker(SeriesMarkers.NONE)
        .setLineColor(CURVE)
        .setLineStyle(new BasicStroke(2));
    dots(chart, "measured", sweep, IntStream.range(0, sweep.size()).mapToDouble(sweep::amps));
    XYStyler style = chart.getStyler();
    style.setAnnotationLineStroke(
        new BasicStroke(
            1.2f, BasicStroke.CAP_BUTT, BasicStroke.JOIN_BEVEL, 0, new float[] {5, 4}, 0));
    chart.addAnnotation(new AnnotationLine(array.peakVolts(), true, false));
    chart.addAnnotation(
        new AnnotationText(
            String.format(Locale.ROOT, "knee %.4g W", array.peakWatts()),
            array.peakVolts() - 0.07 * last,
            0.1 * array.shortCircuitAmps(),
            false));
    return chart;
  }

  private static XYChart residuals(FitResult fit, double last) {
    Sweep sweep = fit.sweep();
    XYChart chart = chart(RESIDUALS_HEIGHT, "fitted - measured, mA", last);
    chart.setXAxisTitle("voltage, V");
    chart.getStyler().setLegendVisible(false);
    dots(
        chart,
        "residuals",
        sweep,
        IntStream.range(0, sweep.size()).mapToDouble(i -> 1000 * fit.residual(i)));
    chart.addAnnotation(new AnnotationLine(0, false, false));
    return chart;
  }

  private static void dots(XYChart chart, String name, Sweep sweep, DoubleStream values) {
    double[] volts = IntStream.range(0, sweep.size()).mapToDouble(sweep::volts).toArray();
    chart
        .addSeries(name, volts, values.toArray())
        .setXYSeriesRenderStyle(XYSeries.XYSeriesRenderStyle.Scatter)
        .setMarker(SeriesMarkers.CIRCLE)
        .setMarkerColor(POINTS);
  }

  private static XYChart chart(int height, String axis, double last) {
    XYChart chart = new XYChart(WIDTH, height);
    chart.setYAxisTitle(axis);
    XYStyler style = chart.getStyler();
    style.setLocale(Locale.ROOT);
    style.setChartBackgroundColor(Color.WHITE);
    style.setPlotBackgroundColor(Color.WHITE);
    style.setPlotGridLinesColor(Color.LIGHT_GRAY);
    style.setAxisTickLabelsFont(new Font(Font.SANS_SERIF, Font.PLAIN, 12));
    style.setAxisTitleFont(new Font(Font.SANS_SERIF, Font.PLAIN, 13));
    style.setAnnotationTextFont(new Font(Font.SANS_SERIF, Font.PLAIN, 13));
    style.setLegendFont(new Font(Font.SANS_SERIF, Font.PLAIN, 13));
    style.setLegendPosition(LegendPosition.InsideSW);
    style.setLegendBorderColor(Color.WHITE);
    style.setAnnotationLineColor(Color.DARK_GRAY);
    style.setAnnotationLineStroke(new BasicStroke(1));
    style.setMarkerSize(6);
    style.setXAxisMin(0.0);
    style.setXAxisMax(1.05 * last);
    style.setYAxisLeftWidthHint(LABEL_WIDTH);
    return chart;
  }
}
