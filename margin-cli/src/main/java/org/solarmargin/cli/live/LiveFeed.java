package org.solarmargin.cli.live;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;

/**
 * Feeds a monitor with rows as they arrive. A row up to half a second late is processed just after
 * the newest one, so that a link that reorders packets loses nothing. While no row arrives, time
 * advances without readings, so that the estimate and the alerts reflect the missing data.
 *
 * <p>One thread feeds and reads it, with {@link #await}, or with {@link #take} and {@link #advance}
 * and a clock of its own.
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

  /** What happened to a saved state. */
  public enum Resumption {
    /** None was given. */
    NONE,
    /** It will be restored with the first row. */
    WAITING,
    /** The monitor was restored from it. */
    DONE,
    /** It was older than {@link #OLDEST_STATE_SECONDS} when the first row came. */
    TOO_OLD,
    /** It is damaged, of another version or of other settings. */
    REFUSED
  }

  /**
   * Readings older than this count as missing, s; frequent ones already after {@link #USUAL}
   * intervals. The times of this class are engineering judgement.
   */
  public static final double OLDEST_SECONDS = 1;

  /** A saved state older than this is not restored, s. */
  public static final double OLDEST_STATE_SECONDS = 60;

  private static final double SOONEST_SECONDS = 0.5;
  private static final double USUAL = 5;
  private static final double USUAL_SHARE = 0.1;
  private static final double SILENT_EVERY = 0.25;
  private static final double NANOS = 1e-9;
  private static final long LATE_NANOS = 500_000_000L;
  private static final long AFTER_NANOS = 1_000;
  private static final long RESTART_NANOS = 5_000_000_000L;

  private final MarginMonitor monitor;
  private final List<Alert> alerts = new ArrayList<>();
  private boolean started;
  private long origin;
  private long newest;

  /** The newest row's own time, ns. */
  private long stamp;

  private long clockRestarts;
  private double readAt = Double.NaN;
  private double rowAt = Double.NaN;
  private double usualSeconds = OLDEST_SECONDS;
  private Verdict verdict = Verdict.ACCEPTED;
  private byte[] saved;
  private double savedAt;
  private Resumption resumption = Resumption.NONE;

  /**
   * A feed before the first row.
   *
   * @param profile profile of the craft
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
   * The local clock used by {@link #await}.
   *
   * @return s since any fixed origin
   */
  public static double now() {
    return System.nanoTime() * NANOS;
  }

  /**
   * Processes the next row of a source; if none arrives, advances time every quarter of a second.
   *
   * @param source source of the rows
   * @param millis how long to wait for a row
   * @return the processed row with the time used for it; null if there was none
   * @throws InterruptedException if the thread is interrupted
   */
  public Row await(RowSource source, long millis) throws InterruptedException {
    RowSource.Arrived arrived = source.poll(millis);
    if (arrived != null) {
      return take(arrived.row(), arrived.local());
    }
    double local = now();
    return local - rowAt >= SILENT_EVERY ? advance(local) : null;
  }

  /**
   * Processes a row.
   *
   * @param row the row as received
   * @param local the local clock, s
   * @return the row with the time used for it
   */
  public Row take(Row row, double local) {
    long nanos = row.nanos();
    if (started && nanos <= newest) {
      if (nanos == stamp || newest - nanos < LATE_NANOS) {
        // a stamp that repeats, such as whole seconds: the local clock tells how much later it is
        long passed = Math.round((local - rowAt) / NANOS);
        nanos = newest + Math.max(AFTER_NANOS, Math.min(passed, LATE_NANOS));
      }
      clockRestarts += newest - nanos > RESTART_NANOS ? 1 : 0;
    }
    if (!started) {
      started = true;
      origin = nanos;
      resume(local);
    }
    newest = nanos;
    stamp = row.empty() ? stamp : row.nanos();
    rowAt = local;
    if (row.hasReading()) {
      double since = Math.min(local - readAt, OLDEST_SECONDS);
      usualSeconds += Double.isNaN(since) ? 0 : USUAL_SHARE * (since - usualSeconds);
      readAt = local;
    }
    verdict =
        monitor.update(nanos - origin, row.volts(), row.amps(), row.throttle(), row.celsius());
    return row.at(nanos);
  }

  /**
   * Advances time without a row.
   *
   * @param local the local clock, s
   * @return the empty row that was processed; null before the first row
   */
  public Row advance(double local) {
    if (!started) {
      return null;
    }
    long passed = Math.round((local - rowAt) / NANOS);
    if (passed <= 0) {
      return null;
    }
    return take(new Row(newest + passed, Double.NaN, Double.NaN, Double.NaN, Double.NaN), local);
  }

  /**
   * Restores a state, saved by {@link MarginMonitor#save}, when the first row arrives.
   *
   * @param state saved state of a monitor with the same profile
   * @param at time of saving, s of the local clock
   */
  public void resumeFrom(byte[] state, double at) {
    saved = state.clone();
    savedAt = at;
    resumption = Resumption.WAITING;
  }

  private void resume(double local) {
    if (resumption == Resumption.WAITING) {
      double ago = local - savedAt;
      resumption =
          ago > OLDEST_STATE_SECONDS
              ? Resumption.TOO_OLD
              : monitor.restore(saved, 0, ago) ? Resumption.DONE : Resumption.REFUSED;
      saved = null;
    }
  }

  /**
   * What happened to the state given to {@link #resumeFrom}.
   *
   * @return never null
   */
  public Resumption resumption() {
    return resumption;
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
   * Time of the flight.
   *
   * @return s, of the newest row; NaN before the first
   */
  public double seconds() {
    return started ? newest * NANOS : Double.NaN;
  }

  /**
   * How often the time of the rows has jumped back by more than five seconds.
   *
   * @return 0 or more
   */
  public long clockRestarts() {
    return clockRestarts;
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
   * Whether there is no reading recent enough to show.
   *
   * @param local the local clock, s
   * @return true before the first reading, and after the last one once five usual intervals have
   *     passed, but not before half a second and not later than {@link #OLDEST_SECONDS}
   */
  public boolean stale(double local) {
    double limit = Math.min(Math.max(USUAL * usualSeconds, SOONEST_SECONDS), OLDEST_SECONDS);
    return !(age(local) <= limit);
  }

  /**
   * Whether the figures of the reading may be acted on: it is fresh, and there is an estimate.
   *
   * @param local the local clock, s
   * @return false without data, while warming up, on the ground and with faulty sensors
   */
  public boolean known(double local) {
    return !stale(local) && monitor.reading().status().bearsMargin();
  }

  /**
   * The gate's verdict on the last row.
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
