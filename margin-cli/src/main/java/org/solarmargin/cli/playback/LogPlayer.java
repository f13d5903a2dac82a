package org.solarmargin.cli.playback;

import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.cli.logcheck.LogChecks;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;

/** Replays one log through a monitor in constant memory. */
public final class LogPlayer {

  /** Receives each line of the log. */
  @FunctionalInterface
  public interface Sink {
    /**
     * A line was processed.
     *
     * @param seconds its time in the log, s; if it has no time in order, that of the last line that
     *     had one; NaN before any
     * @param verdict the gate's verdict on the sample
     * @throws IOException if an output cannot be written
     */
    void take(double seconds, Verdict verdict) throws IOException;
  }

  /**
   * Impossible voltages on more than this many lines in a row, and for longer than this, are not a
   * start-up glitch: engineering judgement.
   */
  private static final int GLITCH_LINES = 100;

  private static final double GLITCH_SECONDS = 2;

  private static final String WRONG_ARRAY =
      "check array.series_cells, the sensor's scale (--column bus_v=HEADER:UNIT), whether volts and"
          + " amperes are interchanged, and whether this log comes from that craft";

  private static final double NANOS_PER_SECOND = 1e9;

  private final CraftProfile profile;
  private final MarginMonitor monitor;
  private final FlightShares shares;
  private final LogChecks checks;
  private final UnitAdvice units;
  private Optional<String> unitWords = Optional.empty();
  private double origin = Double.NaN;
  private double seconds = Double.NaN;
  private double highest = Double.NaN;
  private int wrongLines;
  private double wrongSince;
  private boolean timeMoved;

  /**
   * A player before any line.
   *
   * @param profile the craft and its rules
   * @param listener receives each alert
   */
  public LogPlayer(CraftProfile profile, AlertListener listener) {
    this.profile = profile;
    this.monitor = new MarginMonitor(profile.settings(), profile.rules(), listener);
    this.shares = new FlightShares(profile.settings().rotor());
    this.checks = new LogChecks(profile.settings());
    this.units = new UnitAdvice(profile.settings());
  }

  /**
   * Replays the log to its end. Afterwards {@link #unusable()} says whether its estimates can be
   * relied on.
   *
   * @param reader the log
   * @param progress shows the progress
   * @param sink receives each line
   * @throws InputFault if the log cannot come from this craft, or has no samples
   * @throws IOException if the sink cannot write
   */
  public void play(LogReader reader, Progress progress, Sink sink) throws IOException {
    while (reader.next()) {
      Verdict verdict = step(reader);
      sink.take(seconds, verdict);
      if (progress.due()) {
        progress.step((double) reader.bytesRead());
      }
    }
    unitWords = units.words(reader);
    if (monitor.wrongArray()) {
      throw new InputFault(wrongArray(reader, highest));
    }
    if (monitor.gate().samples() == 0) {
      throw new InputFault(reader.name() + ": no samples after the header: nothing to replay");
    }
  }

  private Verdict step(LogReader reader) {
    double time = reader.value(Column.TIME);
    if (Double.isNaN(origin) && Math.abs(time) <= Double.MAX_VALUE) {
      origin = time;
    }
    double volts = reader.value(Column.VOLTS);
    double amps = reader.value(Column.AMPS);
    double throttle = reader.value(Column.THROTTLE);
    units.take(time, volts, amps, throttle);
    boolean timed = Math.abs(time - origin) * NANOS_PER_SECOND < Long.MAX_VALUE;
    if (!timed) {
      timeMoved = false;
      return monitor.refuseUntimed();
    }
    double lastInOrder = seconds;
    seconds = time + monitor.clockShiftSeconds(); // needed by alerts that this sample raises
    Verdict verdict =
        monitor.update(
            Math.round((time - origin) * NANOS_PER_SECOND),
            volts,
            amps,
            throttle,
            reader.value(Column.CELL));
    if (monitor.wrongArray()) {
      highest = volts > monitor.gate().limits().highestVolts() ? volts : highest;
      wrongSince = wrongLines == 0 ? time : wrongSince;
      wrongLines++;
      if (wrongLines > GLITCH_LINES && !(time - wrongSince <= GLITCH_SECONDS)) {
        throw new InputFault(wrongArray(reader, highest));
      }
    } else {
      wrongLines = 0;
    }
    timeMoved = !verdict.ofTime();
    if (timeMoved) {
      // after a restart of the clock, time continues from where it was
      seconds = time + monitor.clockShiftSeconds();
      shares.take(seconds, throttle, volts * amps, verdict, monitor.reading().status());
      checks.take(seconds, volts, amps, throttle, !Verdicts.ofRange(verdict));
    } else {
      seconds = lastInOrder;
      if (verdict != Verdict.TIME_REPEATED) {
        shares.takeUntimed(throttle, volts * amps, verdict);
      }
    }
    return verdict;
  }

  private String wrongArray(LogReader reader, double volts) {
    return String.format(
        Locale.ROOT,
        "%s line %d: bus voltage cannot be above %.1f V, which %d of these cells in series reach in"
            + " the brightest light and the coldest air: %.2f: %s",
        reader.name(),
        reader.line(),
        monitor.gate().limits().highestVolts(),
        profile.settings().seriesCells(),
        volts,
        units.volts(reader).orElse(WRONG_ARRAY));
  }

  /**
   * Time of the current line.
   *
   * @return time in the log, s, as passed to {@link Sink#take}
   */
  public double seconds() {
    return seconds;
  }

  /**
   * Whether the current line has a time that is in order; only then was the monitor updated.
   *
   * @return true if {@link #seconds()} is its own
   */
  public boolean timeMoved() {
    return timeMoved;
  }

  /**
   * How the flight's time was used.
   *
   * @return never null
   */
  public FlightShares shares() {
    return shares;
  }

  /**
   * Faults of the log as a whole.
   *
   * @return an empty list for a log without faults
   */
  public List<Finding> findings() {
    return checks.findings();
  }

  /**
   * Why this log's estimates cannot be relied on.
   *
   * @return empty if they can
   */
  public Optional<Unusable> unusable() {
    return Unusable.of(monitor.gate(), shares, findings(), unitWords);
  }

  /**
   * Refuses a log whose estimates cannot be relied on.
   *
   * @param name name of the log, for the message
   * @throws InputFault with the reason
   */
  public void requireUsable(String name) {
    unusable()
        .ifPresent(
            fault -> {
              throw new InputFault(fault.line(name));
            });
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
