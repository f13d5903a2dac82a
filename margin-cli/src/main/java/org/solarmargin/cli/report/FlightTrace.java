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

/** What the page draws of a flight, gathered line by line in constant memory. */
public final class FlightTrace {

  /** Where no row has a temperature, degrees Celsius. */
  private static final double COLD = 25;

  private final Downsampler thinner = new Downsampler();
  private final Spans levels = new Spans();
  private final Spans statuses = new Spans();
  private final Spans refused = new Spans();
  private List<FlightRow> rows = List.of();
  private double origin = Double.NaN;
  private boolean truthKnown;
  private long judged;
  private double squaredError;
  private long held;

  /** A trace of nothing yet. */
  public FlightTrace() {}

  /**
   * Takes a line that was refused.
   *
   * @param seconds time in the log, s
   */
  public void refuse(double seconds) {
    origin = Double.isNaN(origin) ? seconds : origin;
    refused.take(seconds, 1, 0);
  }

  /**
   * Takes an accepted sample.
   *
   * @param seconds time in the log, s
   * @param volts V
   * @param amps A
   * @param throttle 0 to 1
   * @param reading the reading there
   * @param level the highest standing alert
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
    thinner.take(
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
    rows = thinner.rows();
  }

  /**
   * Time of the first line, s.
   *
   * @return as said
   */
  public double origin() {
    return origin;
  }

  /**
   * Whether a truth came with the samples.
   *
   * @return as said
   */
  public boolean truthKnown() {
    return truthKnown;
  }

  /**
   * Root mean square of the relative error where the estimate says that it is fit, percent.
   *
   * @return as said
   */
  public double rmsPercent() {
    return 100 * Math.sqrt(squaredError / judged);
  }

  /**
   * Share of these samples whose lower bound held, percent.
   *
   * @return as said
   */
  public double heldPercent() {
    return 100.0 * held / judged;
  }

  /** The rows to show, once the flight has ended. */
  List<FlightRow> rows() {
    return rows;
  }

  /**
   * Samples taken in.
   *
   * @return count
   */
  public long taken() {
    return thinner.taken();
  }

  /**
   * Samples that the page shows.
   *
   * @return count
   */
  public int shown() {
    return rows.size();
  }

  /**
   * The page's data; times count from the first line.
   *
   * @param settings of the craft, for its curve
   * @param startAt where the cursor stands first, time in the log, s
   * @return for {@link Page#write}
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

  /** The cell at each whole degree that was flown, so that the page knows no temperature law. */
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
