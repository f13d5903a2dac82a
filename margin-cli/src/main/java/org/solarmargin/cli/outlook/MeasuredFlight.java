package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.log.LogStart;
import org.solarmargin.cli.playback.LogPlayer;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;

/**
 * Light, cell temperature and hover power from a log: one value for each second in the air with an
 * actionable estimate, as {@code replay} computes them.
 *
 * @param name name of the log
 * @param start instant of its first row, if the log states it
 * @param seconds the seconds in order; at least one
 * @param thermometer whether the cell temperature was measured, rather than estimated from the bus
 * @param unevenShare share of these seconds in which the readings show dim cells, 0 to 1
 */
record MeasuredFlight(
    String name,
    Optional<Instant> start,
    List<Second> seconds,
    boolean thermometer,
    double unevenShare) {

  private static final double PROVEN = 0.5;

  /**
   * One second of flight.
   *
   * @param offset time since the log's first row, s
   * @param suns light on the cells, derived from the array
   * @param lightSd relative sigma of light and available power, from the estimate's lower bound
   * @param celsius cell temperature, degrees Celsius
   * @param watts demand, W
   */
  record Second(double offset, double suns, double lightSd, double celsius, double watts) {}

  /**
   * Reads a log with the air temperature of a forecast, on which the cell temperature depends where
   * there is no thermometer.
   *
   * @throws InputFault if it cannot be used, or has no second of flight with an estimate
   */
  static MeasuredFlight read(DayQuestion asked, Path log, ColumnMap columns, Progress progress)
      throws IOException {
    CraftProfile craft = inAir(asked.profile(), asked.weather().middle());
    LogPlayer player =
        new LogPlayer(LogTiming.of(craft, log, columns).profile(), (t, l, r, w, m, z) -> {});
    Averager averager = new Averager(player);
    try (LogReader reader = new LogReader(log, columns)) {
      player.play(reader, progress, (time, verdict) -> averager.take(time, verdict, reader));
      player.requireUsable(log.toString());
      if (averager.seconds.isEmpty()) {
        throw new InputFault(
            log + ": no second of flight with an estimate: give a log of a whole flight");
      }
      Path name = log.getFileName();
      return new MeasuredFlight(
          name == null ? log.toString() : name.toString(),
          reader.startInstant().or(() -> LogStart.of(log)),
          averager.seconds,
          averager.measured > averager.seconds.size() / 2,
          (double) averager.uneven / averager.seconds.size());
    }
  }

  private static CraftProfile inAir(CraftProfile craft, double celsius) {
    EstimatorSettings.Thermal heat = craft.settings().thermal();
    return craft.with(
        craft
            .settings()
            .withThermal(
                new EstimatorSettings.Thermal(
                    celsius, heat.sunRiseKelvin(), heat.timeConstantSeconds())));
  }

  /** Accumulates the means of each second. */
  private static final class Averager {
    private final LogPlayer player;
    private final List<Second> seconds = new ArrayList<>();
    private final double[] sums = new double[4];
    private double first = Double.NaN;
    private long second;
    private int count;
    private int thermometers;
    private double unevenness;
    private int measured;
    private int uneven;

    Averager(LogPlayer player) {
      this.player = player;
    }

    void take(double time, Verdict verdict, LogReader reader) {
      if (Double.isNaN(first) && !Double.isNaN(time)) {
        first = time;
      }
      MarginReading reading = player.monitor().reading();
      if (!reading.status().beforeKnee()
          || !Verdicts.usable(verdict)
          || !player.monitor().airborne()) {
        return;
      }
      long now = (long) Math.floor(time - first);
      if (now != second) {
        close();
        second = now;
      }
      double cell = reader.value(Column.CELL);
      boolean thermometer = Double.isFinite(cell) && !reading.thermometerLeftOut();
      thermometers += thermometer ? 1 : 0;
      sums[0] += reading.suns();
      sums[1] +=
          (1 - reading.availableLowWatts() / reading.availableWatts()) / DayOutlook.ONE_SIDED_95;
      sums[2] += thermometer ? cell : reading.cellCelsius();
      sums[3] += reading.steadyDemandWatts();
      unevenness += reading.unevenLightProbability();
      count++;
    }

    /** Completes a second; the last one of a log is left out. */
    private void close() {
      if (count > 0) {
        seconds.add(
            new Second(
                second + 0.5, sums[0] / count, sums[1] / count, sums[2] / count, sums[3] / count));
        measured += 2 * thermometers > count ? 1 : 0;
        uneven += unevenness > PROVEN * count ? 1 : 0;
      }
      java.util.Arrays.fill(sums, 0);
      count = 0;
      thermometers = 0;
      unevenness = 0;
    }
  }

  /** Size of the log, bytes; 0 where it is unknown. */
  static double size(Path log) throws IOException {
    return Files.isRegularFile(log) ? (double) Files.size(log) : 0;
  }
}
