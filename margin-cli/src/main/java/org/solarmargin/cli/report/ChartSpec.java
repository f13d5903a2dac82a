package org.solarmargin.cli.report;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeMap;

/** Description of a chart of curves or points over one axis, for the page's script. */
public final class ChartSpec {

  private static final int DECIMALS = 6;

  private final JsonObject json = new JsonObject();
  private final List<JsonObject> series = new ArrayList<>();
  private final TreeMap<Double, List<double[]>> points = new TreeMap<>();

  /**
   * An empty chart.
   *
   * @param id id of its element in the page
   * @param height in pixels
   * @param xLabel label of the horizontal axis, with unit
   * @param yLabel label of the vertical axis, with unit
   * @param fromZero whether the vertical axis begins at 0
   */
  public ChartSpec(String id, int height, String xLabel, String yLabel, boolean fromZero) {
    json.addProperty("id", id);
    json.addProperty("height", height);
    json.addProperty("xLabel", xLabel);
    json.addProperty("yLabel", yLabel);
    json.addProperty("fromZero", fromZero);
  }

  /**
   * Sets the range of the horizontal axis.
   *
   * @param from left end
   * @param to right end
   */
  public void xRange(double from, double to) {
    JsonArray range = new JsonArray();
    range.add(from);
    range.add(to);
    json.add("xRange", range);
  }

  /** Makes the horizontal axis hours of a day, shown as clock times. */
  public void clock() {
    json.addProperty("xForm", "clock");
  }

  /**
   * Makes the horizontal axis days of a year, from 1, shown as dates.
   *
   * @param year the year, for leap days
   */
  public void calendar(int year) {
    json.addProperty("xForm", "date");
    json.addProperty("year", year);
  }

  /**
   * Adds a curve.
   *
   * @param name name in the legend
   * @param colour name of the style sheet's variable, with its leading dashes
   * @param dash lengths of dashes and gaps; none for a solid line
   * @return its index, for {@link #put}
   */
  public int curve(String name, String colour, int... dash) {
    JsonObject one = new JsonObject();
    one.addProperty("name", name);
    one.addProperty("colour", colour);
    if (dash.length > 0) {
      JsonArray lengths = new JsonArray();
      for (int d : dash) {
        lengths.add(d);
      }
      one.add("dash", lengths);
    }
    series.add(one);
    return series.size() - 1;
  }

  /**
   * Adds points.
   *
   * @param name name in the legend
   * @param colour name of the style sheet's variable, with its leading dashes
   * @param size size in pixels
   * @param solid whether points are filled, rather than rings
   * @return its index, for {@link #put}
   */
  public int dots(String name, String colour, int size, boolean solid) {
    int place = curve(name, colour);
    series.get(place).addProperty("points", size);
    series.get(place).addProperty("solid", solid);
    return place;
  }

  /**
   * Adds a point.
   *
   * @param place index of the series
   * @param x finite
   * @param y finite
   */
  public void put(int place, double x, double y) {
    points.computeIfAbsent(x, k -> new ArrayList<>()).add(new double[] {place, y});
  }

  /**
   * The chart as JSON.
   *
   * @return all series on the union of their abscissas
   */
  public JsonObject json() {
    JsonArray xs = new JsonArray();
    List<JsonArray> ys = new ArrayList<>();
    series.forEach(s -> ys.add(new JsonArray()));
    points.forEach(
        (x, at) -> {
          // several points of one series at one x need a row each
          List<double[]> rest = new ArrayList<>(at);
          while (!rest.isEmpty()) {
            double[] row = new double[series.size()];
            java.util.Arrays.fill(row, Double.NaN);
            rest.removeIf(
                p -> {
                  boolean free = Double.isNaN(row[(int) p[0]]);
                  row[(int) p[0]] = free ? p[1] : row[(int) p[0]];
                  return free;
                });
            Series.add(xs, x, DECIMALS);
            for (int s = 0; s < row.length; s++) {
              Series.add(ys.get(s), row[s], DECIMALS);
            }
          }
        });
    json.add("x", xs);
    JsonArray all = new JsonArray();
    for (int s = 0; s < series.size(); s++) {
      series.get(s).add("y", ys.get(s));
      all.add(series.get(s));
    }
    json.add("series", all);
    return json;
  }

  /**
   * Data of a page that has only such charts.
   *
   * @param charts in any order
   * @return for {@link Page#write}
   */
  public static JsonObject data(List<ChartSpec> charts) {
    JsonObject data = new JsonObject();
    data.addProperty("kind", "charts");
    JsonArray all = new JsonArray();
    charts.forEach(chart -> all.add(chart.json()));
    data.add("charts", all);
    return data;
  }
}
