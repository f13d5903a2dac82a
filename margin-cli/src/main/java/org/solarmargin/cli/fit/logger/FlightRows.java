package org.solarmargin.cli.fit.logger;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Optional;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.playback.FreshRows;
import org.solarmargin.core.profile.CraftProfile;

/** The rows of a flight in the air: commands and fresh readings, at most {@value #MOST}. */
final class FlightRows implements FreshRows.Sink {

  /** Six minutes at 50 Hz: engineering judgement of how much determines the logger's timing. */
  static final int MOST = 18_000;

  private static final double NANOS = 1e-9;

  private static final String NO_FLIGHT =
      "no usable row in the air: check the columns and their units (--column)";

  private final Path log;
  private long[] nanos = new long[1024];
  private double[] throttle = new double[1024];
  private double[] volts = new double[1024];
  private double[] amps = new double[1024];
  private int size;
  private Optional<String> units = Optional.empty();

  private FlightRows(Path log) {
    this.log = log;
  }

  static FlightRows read(CraftProfile profile, Path log, ColumnMap columns) throws IOException {
    FlightRows rows = new FlightRows(log);
    rows.units = FreshRows.read(profile, log, columns, rows);
    return rows;
  }

  @Override
  public boolean row(long at, double command, double busVolts, double busAmps) {
    if (size == nanos.length) {
      nanos = Arrays.copyOf(nanos, 2 * size);
      throttle = Arrays.copyOf(throttle, 2 * size);
      volts = Arrays.copyOf(volts, 2 * size);
      amps = Arrays.copyOf(amps, 2 * size);
    }
    nanos[size] = at;
    throttle[size] = command;
    volts[size] = busVolts;
    amps[size] = busAmps;
    size++;
    return size < MOST;
  }

  Path log() {
    return log;
  }

  /** Why the log cannot be used, with what to do; empty if it can. */
  Optional<String> fault() {
    return units
        .or(() -> size > 0 ? Optional.empty() : Optional.of(NO_FLIGHT))
        .map(why -> log + ": " + why);
  }

  int size() {
    return size;
  }

  long nanos(int row) {
    return nanos[row];
  }

  double throttle(int row) {
    return throttle[row];
  }

  double volts(int row) {
    return volts[row];
  }

  double amps(int row) {
    return amps[row];
  }

  /** Time from the first row to the last, s. */
  double seconds() {
    return size < 2 ? 0 : (nanos[size - 1] - nanos[0]) * NANOS;
  }

  /** Median interval of rows, s; 0 if there are fewer than two. */
  double intervalSeconds() {
    if (size < 2) {
      return 0;
    }
    long[] steps = new long[size - 1];
    for (int i = 1; i < size; i++) {
      steps[i - 1] = nanos[i] - nanos[i - 1];
    }
    Arrays.sort(steps);
    return steps[steps.length / 2] * NANOS;
  }

  /** Standard deviation of the throttle in the air. */
  double throttleSd() {
    double mean = Arrays.stream(throttle, 0, size).average().orElse(0);
    double sum = 0;
    for (int i = 0; i < size; i++) {
      sum += (throttle[i] - mean) * (throttle[i] - mean);
    }
    return Math.sqrt(sum / Math.max(size, 1));
  }

  ChannelStatistics voltsStatistics() {
    return ChannelStatistics.of(nanos, volts, size);
  }

  ChannelStatistics ampsStatistics() {
    return ChannelStatistics.of(nanos, amps, size);
  }
}
