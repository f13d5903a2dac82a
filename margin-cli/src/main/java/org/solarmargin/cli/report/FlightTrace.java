package org.solarmargin.cli.report;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/** The data of a flight drawn in a page, collected line by line in constant memory. */
public final class FlightTrace {

  /** Temperature of the curve if no row has one, degrees Celsius. */
  private static final double COLD = 25;

  private final Downsampler downsampler = new Downsampler();
  private final Spans levels = new Spans();
  private final Spans statuses = new Spans();
  private final Spans refused = new Spans();
  private List<FlightRow> rows = List.of();
  private double origin = Double.NaN;
  private boolean truthKnown;
  private long judged;
  private double squaredError;
  private long held;

  /** An empty trace. */
  public FlightTrace() {}

  /**
   * Adds a refused line.
   *
   * @param seconds time in the log, s
   */
  public void refuse(double seconds) {
    origin = Double.isNaN(origin) ? seconds : origin;
    refused.take(seconds, 1, 0);
  }

  /**
   * Adds an accepted sample.
   *
   * @param seconds time in the log, s
   * @param volts V
   * @param amps A
   * @param throttle 0 to 1
   * @param reading the reading there
   * @param level the highest active alert
   * @param truth true available power, W; NaN if not known
   */
  public void take(
      double seconds,
      double volts,
      double amps,
      double throttle,
      MarginReading reading,
      AlertLevel level,
      double truth) {
    origin = Double.isNaN(origin) ? seconds : origin;
    refused.take(seconds, 0, 0);
    levels.take(seconds, level.ordinal(), AlertLevel.NONE.ordinal());
    statuses.take(seconds, reading.status().ordinal(), -1);
    downsampler.take(
        FlightRow.of(new FlightRow.Read(seconds, volts, amps, throttle), reading, level, truth));
    if (truth > 0 && reading.status().beforeKnee()) {
      truthKnown = true;
      judged++;
      squaredError += Math.pow(reading.availableWatts() / truth - 1, 2);
      held += reading.availableLowWatts() <= truth ? 1 : 0;
    }
  }

  /** Ends the flight. */
  public void finish() {
    levels.finish();
    statuses.finish();
    refused.finish();
    rows = downsampler.rows();
  }

  /**
   * Time of the first line, s.
   *
   * @return the value
   */
  public double origin() {
    return origin;
  }

  /**
   * Whether the truth is known.
   *
   * @return the value
   */
  public boolean truthKnown() {
    return truthKnown;
  }

  /**
   * Root mean square of the relative error of estimates before the knee, percent.
   *
   * @return the value
   */
  public double rmsPercent() {
    return 100 * Math.sqrt(squaredError / judged);
  }

  /**
   * Share of these samples whose lower bound held, percent.
   *
   * @return the value
   */
  public double heldPercent() {
    return 100.0 * held / judged;
  }

  /** The rows to show, once the flight has ended. */
  List<FlightRow> rows() {
    return rows;
  }

  /**
   * Number of samples added.
   *
   * @return count
   */
  public long taken() {
    return downsampler.taken();
  }

  /**
   * Number of samples shown in the page.
   *
   * @return count
   */
  public int shown() {
    return rows.size();
  }

  /**
   * The data of the page; times are relative to the first line.
   *
   * @param settings settings of the craft, for its curve
   * @param startAt initial position of the cursor, time in the log, s
   * @return the data for {@link Page#write}
   */
  public JsonObject json(EstimatorSettings settings, double startAt) {
    JsonObject data = new JsonObject();
    data.addProperty("kind", "flight");
    column(data, "t", rows, r -> r.seconds() - origin, 3);
    column(data, "available", rows, row -> row.power().available(), 3);
    column(data, "low", rows, row -> row.power().low(), 3);
    column(data, "demand", rows, row -> row.power().demand(), 3);
    column(data, "margin", rows, FlightRow::marginWatts, 3);
    column(data, "lift", rows, row -> row.power().lift(), 2);
    column(data, "volts", rows, row -> row.read().volts(), 3);
    column(data, "amps", rows, row -> row.read().amps(), 3);
    column(data, "mppVolts", rows, row -> row.power().mppVolts(), 3);
    column(data, "throttle", rows, row -> row.read().throttle(), 3);
    column(data, "ceiling", rows, row -> row.power().ceiling(), 4);
    column(data, "suns", rows, row -> row.cells().suns(), 4);
    column(data, "cellC", rows, row -> row.cells().celsius(), 2);
    column(data, "status", rows, FlightRow::status, 0);
    column(data, "level", rows, FlightRow::level, 0);
    if (truthKnown) {
      column(data, "truth", rows, FlightRow::truth, 3);
    }
    data.addProperty("origin", Double.isNaN(origin) ? 0 : origin);
    data.add("levels", levels.json(origin));
    data.add("statuses", statuses.json(origin));
    data.add("refused", refused.json(origin));
    JsonArray words = new JsonArray();
    for (Status status : Status.values()) {
      words.add(status.name());
    }
    data.add("statusWords", words);
    data.addProperty("startAt", startRow(rows, startAt));
    data.add("cell", cell(settings));
    return data;
  }

  private static int startRow(List<FlightRow> rows, double seconds) {
    int row = 0;
    while (row < rows.size() - 1 && rows.get(row).seconds() < seconds) {
      row++;
    }
    return row;
  }

  /**
   * The cell's parameters at each whole degree of the flight, so that the page needs no temperature
   * law of its own.
   */
  private JsonObject cell(EstimatorSettings settings) {
    CellCurve curve = new CellCurve(settings.cell());
    double[] celsius =
        rows.stream().mapToDouble(row -> row.cells().celsius()).filter(Double::isFinite).toArray();
    int first = (int) Math.floor(Arrays.stream(celsius).min().orElse(COLD));
    int last = (int) Math.ceil(Arrays.stream(celsius).max().orElse(COLD));
    JsonArray degrees = new JsonArray();
    for (int t = first; t <= last; t++) {
      curve.set(1, t);
      JsonArray row = new JsonArray(3);
      row.add(curve.photocurrentAmps());
      row.add(Math.log(curve.saturationAmps()));
      row.add(curve.thermalVolts());
      degrees.add(row);
    }
    JsonObject json = new JsonObject();
    json.addProperty("first", first);
    json.add("degrees", degrees);
    json.addProperty("rs", settings.cell().seriesOhms());
    json.addProperty("rsh", Math.min(settings.cell().shuntOhms(), 1e12));
    json.addProperty("series", settings.seriesCells());
    json.addProperty("parallel", settings.parallelStrings());
    return json;
  }

  private static void column(
      JsonObject data,
      String name,
      List<FlightRow> rows,
      java.util.function.ToDoubleFunction<FlightRow> value,
      int decimals) {
    JsonArray column = new JsonArray(rows.size());
    for (FlightRow row : rows) {
      Series.add(column, value.applyAsDouble(row), decimals);
    }
    data.add(name, column);
  }
}
