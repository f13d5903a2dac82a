package org.solarmargin.cli.playback;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.gate.SampleClock;
import org.solarmargin.core.gate.SampleGate;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Reads the rows of a log in the air, as passed by the monitor's gate. */
public final class FreshRows {

  private static final double NANOS_PER_SECOND = 1e9;

  private FreshRows() {}

  /** Receives rows. */
  @FunctionalInterface
  public interface Sink {
    /**
     * Receives a row.
     *
     * @param nanos time since the log's first row, ns
     * @param throttle 0 to 1
     * @param volts bus voltage, V; NaN if this reading is not fresh
     * @param amps bus current, A; NaN if this reading is not fresh
     * @return whether to continue
     */
    boolean row(long nanos, double throttle, double volts, double amps);
  }

  /**
   * Reads a log up to the end, or until the sink has enough.
   *
   * @param profile the craft
   * @param log the log
   * @param columns mapping of header names
   * @param sink receives each row that is not refused and whose throttle is that of flight
   * @return what to do about the unit of a column, if one is suspect
   * @throws IOException if the log cannot be read
   */
  public static Optional<String> read(CraftProfile profile, Path log, ColumnMap columns, Sink sink)
      throws IOException {
    EstimatorSettings settings = profile.settings();
    SampleGate gate = new SampleGate(MarginMonitor.limitsOf(settings), settings.timing());
    UnitAdvice units = new UnitAdvice(settings);
    SampleClock clock = new SampleClock();
    double airborne = settings.rotor().airborneThrottle();
    double origin = Double.NaN;
    boolean more = true;
    try (LogReader reader = new LogReader(log, columns)) {
      while (more && reader.next()) {
        double time = reader.value(Column.TIME);
        double volts = reader.value(Column.VOLTS);
        double amps = reader.value(Column.AMPS);
        double throttle = reader.value(Column.THROTTLE);
        units.take(time, volts, amps, throttle);
        if (!Double.isFinite(time)) {
          continue;
        }
        origin = Double.isNaN(origin) ? time : origin;
        long nanos = Math.round((time - origin) * NANOS_PER_SECOND);
        boolean refused =
            clock.judge(nanos).refused()
                || gate.judge(clock.nanos(), volts, amps, throttle).refused();
        if (!refused && gate.throttle() >= airborne) {
          more =
              sink.row(
                  clock.nanos(),
                  gate.throttle(),
                  gate.voltsFresh() ? volts : Double.NaN,
                  gate.ampsFresh() ? amps : Double.NaN);
        }
      }
      return units.words(reader).or(() -> units.volts(reader));
    }
  }
}
