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
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Drives one log through a monitor, in constant memory. */
public final class LogPlayer {

  /** FittedValue of each line of the log. */
  @FunctionalInterface
  public interface Sink {
    /**
     * A line was taken.
     *
     * @param seconds its time in the log, s; where it has none that is in order, that of the last
     *     line that had; NaN before any
     * @param verdict what became of the sample
     * @throws IOException if an output cannot be written
     */
    void take(double seconds, Verdict verdict) throws IOException;
  }

  /** Impossible voltages for longer than so many lines are no glitch of the start. */
  private static final int GLITCH_LINES = 100;

  private static final double NANOS_PER_SECOND = 1e9;

  private final CraftProfile profile;
  private final MarginMonitor monitor;
  private final FlightShares shares;
  private final LogChecks checks;
  private double origin = Double.NaN;
  private double seconds = Double.NaN;
  private double highest = Double.NaN;
  private int wrongLines;
  private boolean timeMoved;

  /**
   * A player that has played nothing.
   *
   * @param profile the craft and its rules
   * @param listener told of each alert
   */
  public LogPlayer(CraftProfile profile, AlertListener listener) {
    this.profile = profile;
    this.monitor = new MarginMonitor(profile.settings(), profile.rules(), listener);
    this.shares = new FlightShares(profile.settings().rotor());
    this.checks = new LogChecks(profile.settings());
  }

  /**
   * Plays the log to its end. Ask {@link #unusable()} then whether its estimates mean anything.
   *
   * @param reader the log
   * @param progress told how far it is
   * @param sink told of each line
   * @throws InputFault if the log cannot be this craft's, or has no samples
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
    boolean timed = Math.abs(time - origin) * NANOS_PER_SECOND < Long.MAX_VALUE;
    if (!timed) {
      timeMoved = false;
      return monitor.refuseUntimed();
    }
    double lastInOrder = seconds;
    seconds = time + monitor.clockShiftSeconds(); // alerts that this sample raises ask for it
    Verdict verdict =
        monitor.update(
            Math.round((time - origin) * NANOS_PER_SECOND),
            volts,
            amps,
            throttle,
            reader.value(Column.CELL));
    if (monitor.wrongArray()) {
      highest = volts > monitor.gate().limits().highestVolts() ? volts : highest;
      wrongLines++;
      if (wrongLines > GLITCH_LINES) {
        throw new InputFault(wrongArray(reader, highest));
      }
    } else {
      wrongLines = 0;
    }
    timeMoved = !verdict.ofTime();
    if (timeMoved) {
      // a clock that has started anew goes on where the old one was
      seconds = time + monitor.clockShiftSeconds();
      shares.take(seconds, throttle, volts * amps, verdict, monitor.reading().status());
      checks.take(seconds, volts, amps, throttle);
    } else {
      seconds = lastInOrder;
      if (verdict != Verdict.TIME_REPEATED) {
        shares.takeBackward(throttle, volts * amps);
      }
    }
    return verdict;
  }

  private String wrongArray(LogReader reader, double volts) {
    return String.format(
        Locale.ROOT,
        "%s line %d: bus voltage cannot be above %.1f V, which %d of these cells in series give in the"
            + " brightest light and deepest cold: %.2f: check array.series_cells, the sensor's scale"
            + " (--column bus_v=HEADER:UNIT), whether volts and amperes are exchanged, or whether"
            + " this is that craft's log",
        reader.name(),
        reader.line(),
        monitor.gate().limits().highestVolts(),
        profile.settings().seriesCells(),
        volts);
  }

  /**
   * Time of the line being taken.
   *
   * @return s, in the log, as {@link Sink#take} has it
   */
  public double seconds() {
    return seconds;
  }

  /**
   * Whether the line being taken has a time, and one that is in order: only then did the monitor
   * move.
   *
   * @return true if {@link #seconds()} is its own
   */
  public boolean timeMoved() {
    return timeMoved;
  }

  /**
   * What became of the flight's time.
   *
   * @return never null
   */
  public FlightShares shares() {
    return shares;
  }

  /**
   * Faults that the log as a whole shows.
   *
   * @return none for a sound log
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
    return Unusable.of(monitor.gate(), shares, findings());
  }

  /**
   * Refuses a log whose estimates cannot be relied on.
   *
   * @param name of the log, for the message
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
   * The monitor that is fed.
   *
   * @return never null
   */
  public MarginMonitor monitor() {
    return monitor;
  }
}
