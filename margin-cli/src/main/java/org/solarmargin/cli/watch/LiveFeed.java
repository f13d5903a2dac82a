package org.solarmargin.cli.watch;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A monitor fed by rows as they come. A row up to half a second late is taken at the instant after
 * the newest, so that a link that reorders costs nothing but that; while nothing comes, time goes
 * on without readings, so that the estimate and its alerts say so.
 */
public final class LiveFeed {

  /**
   * An alert that was raised or cleared.
   *
   * @param seconds time of the flight, s
   * @param level the level raised, or the level left
   * @param raised whether raised or cleared
   * @param reason why
   */
  public record Alert(double seconds, AlertLevel level, boolean raised, AlertReason reason) {}

  /** Readings older than this are no data, s. */
  static final double OLDEST_SECONDS = 1;

  private static final double NANOS = 1e-9;
  private static final long LATE_NANOS = 500_000_000L;
  private static final long AFTER_NANOS = 1_000;

  private final MarginMonitor monitor;
  private final List<Alert> alerts = new ArrayList<>();
  private boolean started;
  private long origin;
  private long newest;
  private double readAt = Double.NaN;
  private double rowAt = Double.NaN;
  private Verdict verdict = Verdict.ACCEPTED;

  /**
   * A feed that has seen nothing.
   *
   * @param profile of the craft
   */
  public LiveFeed(CraftProfile profile) {
    monitor =
        new MarginMonitor(
            profile.settings(),
            profile.rules(),
            (nanos, level, raised, reason, margin, toZero) ->
                alerts.add(new Alert((nanos + origin) * NANOS, level, raised, reason)));
  }

  /**
   * Takes a row.
   *
   * @param row as it came
   * @param local the local clock, s
   * @return the row at the time under which it was taken
   */
  public Row take(Row row, double local) {
    long nanos = row.nanos();
    if (started && nanos <= newest && newest - nanos < LATE_NANOS) {
      nanos = newest + AFTER_NANOS;
    }
    if (!started) {
      started = true;
      origin = nanos;
    }
    newest = nanos;
    rowAt = local;
    if (row.reads()) {
      readAt = local;
    }
    verdict =
        monitor.update(nanos - origin, row.volts(), row.amps(), row.throttle(), row.celsius());
    return row.at(nanos);
  }

  /**
   * Lets time pass without a row.
   *
   * @param local the local clock, s
   * @return the empty row that was taken; null before the first
   */
  public Row silent(double local) {
    if (!started) {
      return null;
    }
    long passed = Math.round((local - rowAt) / NANOS);
    if (passed <= 0) {
      return null;
    }
    double read = readAt;
    Row row = take(new Row(newest + passed, Double.NaN, Double.NaN, Double.NaN, Double.NaN), local);
    readAt = read;
    return row;
  }

  /**
   * Alerts since the last call.
   *
   * @return in the order of time
   */
  public List<Alert> alerts() {
    List<Alert> taken = List.copyOf(alerts);
    alerts.clear();
    return taken;
  }

  /**
   * Age of the newest reading of the bus.
   *
   * @param local the local clock, s
   * @return s; NaN before the first
   */
  public double age(double local) {
    return local - readAt;
  }

  /**
   * Whether there is no reading that is young enough to show.
   *
   * @param local the local clock, s
   * @return true before the first reading, and a second after the last
   */
  public boolean stale(double local) {
    return !(age(local) <= OLDEST_SECONDS);
  }

  /**
   * What became of the last row.
   *
   * @return never null
   */
  public Verdict verdict() {
    return verdict;
  }

  /**
   * The monitor.
   *
   * @return never null
   */
  public MarginMonitor monitor() {
    return monitor;
  }
}
