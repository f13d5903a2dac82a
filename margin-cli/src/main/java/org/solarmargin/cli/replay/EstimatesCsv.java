package org.solarmargin.cli.replay;

import java.io.IOException;
import java.io.Writer;
import org.solarmargin.cli.format.Decimals;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/** Writes one line for each line of the log. */
final class EstimatesCsv {

  private static final String HEADER =
      "time_s,status,available_w,available_low_w,demand_w,margin_w,margin_low_w,mpp_v,"
          + "throttle_ceiling,lift_reserve_pct,time_to_zero_s,level,suns,cell_c,steady_demand_w,"
          + "alert_margin_pct\n";

  /** Nine empty figures between status and level. */
  private static final String NO_FIGURES = ",".repeat(10);

  private final Writer writer;
  private final StringBuilder line = new StringBuilder(160);

  EstimatesCsv(Writer writer) throws IOException {
    this.writer = writer;
    writer.write(HEADER);
  }

  /**
   * Writes a sample with an estimate.
   *
   * @param alertMargin margin as judged by the alert rules, percent of the decaying peak demand
   */
  void write(String time, MarginReading reading, AlertLevel level, double alertMargin)
      throws IOException {
    line.setLength(0);
    line.append(time).append(',').append(reading.status());
    field(reading.availableWatts(), 3);
    field(reading.availableLowWatts(), 3);
    field(reading.demandWatts(), 3);
    field(reading.marginWatts(), 3);
    field(reading.marginLowWatts(), 3);
    field(reading.peakVolts(), 3);
    field(reading.throttleCeiling(), 4);
    field(reading.liftReservePercent(), 2);
    field(reading.secondsToZero(), 2);
    line.append(',');
    if (level != AlertLevel.NONE) {
      line.append(level);
    }
    field(reading.suns(), 4);
    field(reading.cellCelsius(), 2);
    field(reading.steadyDemandWatts(), 3);
    field(alertMargin, 2);
    line.append('\n');
    writer.append(line);
  }

  /** Writes a refused sample: no figures, only the active alert. */
  void writeRefused(String time, AlertLevel level) throws IOException {
    line.setLength(0);
    line.append(time).append(',').append(Status.SENSOR_FAULT).append(NO_FIGURES);
    if (level != AlertLevel.NONE) {
      line.append(level);
    }
    writer.append(line.append(",,,,\n"));
  }

  private void field(double value, int decimals) {
    line.append(',');
    Decimals.append(line, value, decimals);
  }
}
