package org.solarmargin.cli.play;

import java.io.IOException;
import java.util.Locale;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.text.Progress;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.gate.SampleGate;
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Drives one log through a monitor, in constant memory. */
public final class LogPlayer {

  /** Told of each line that has a time. */
  @FunctionalInterface
  public interface Sink {
    /**
     * A line was taken.
     *
     * @param seconds its time in the log, s
     * @param verdict what became of the sample
     * @throws IOException if an output cannot be written
     */
    void take(double seconds, Verdict verdict) throws IOException;
  }

  private static final double NANOS_PER_SECOND = 1e9;

  private final CraftProfile profile;
  private final MarginMonitor monitor;
  private double origin = Double.NaN;
  private double seconds;

  /**
   * A player that has played nothing.
   *
   * @param profile the craft and its rules
   * @param listener told of each alert
   */
  public LogPlayer(CraftProfile profile, AlertListener listener) {
    this.profile = profile;
    this.monitor = new MarginMonitor(profile.settings(), profile.rules(), listener);
  }

  /**
   * Plays the log to its end.
   *
   * @param reader the log
   * @param progress told how far it is
   * @param sink told of each line
   * @throws InputFault if the log cannot be this craft's, or has no usable sample
   * @throws IOException if the sink cannot write
   */
  public void play(LogReader reader, Progress progress, Sink sink) throws IOException {
    while (reader.next()) {
      step(reader, sink);
      if (progress.due()) {
        progress.step((double) reader.bytesRead());
      }
    }
    if (monitor.gate().samples() == 0) {
      throw new InputFault(reader.name() + ": no samples after the header: nothing to replay");
    }
    if (monitor.gate().count(Verdict.ACCEPTED) == 0) {
      throw new InputFault(
          reader.name()
              + ": all "
              + monitor.gate().samples()
              + " samples refused: "
              + refusals(monitor.gate())
              + ": check the columns and their units (--column)");
    }
  }

  private void step(LogReader reader, Sink sink) throws IOException {
    double time = reader.value(Column.TIME);
    if (Double.isNaN(origin) && Math.abs(time) <= Double.MAX_VALUE) {
      origin = time;
    }
    double volts = reader.value(Column.VOLTS);
    boolean timed = Math.abs(time - origin) * NANOS_PER_SECOND < Long.MAX_VALUE;
    if (!timed) {
      monitor.gate().refuseUntimed();
      return;
    }
    seconds = time;
    Verdict verdict =
        monitor.update(
            Math.round((time - origin) * NANOS_PER_SECOND),
            volts,
            reader.value(Column.AMPS),
            reader.value(Column.THROTTLE),
            reader.value(Column.CELL));
    if (monitor.wrongArray()) {
      throw new InputFault(wrongArray(reader, volts));
    }
    sink.take(time, verdict);
  }

  private String wrongArray(LogReader reader, double volts) {
    return String.format(
        Locale.ROOT,
        "%s line %d: bus voltage cannot be above %.1f V, which %d of these cells in series give in the"
            + " brightest light and deepest cold: %.2f: check array.series_cells, the sensor's scale"
            + " (--column bus_v=HEADER:UNIT), or whether this is that craft's log",
        reader.name(),
        reader.line(),
        monitor.gate().limits().highestVolts(),
        profile.settings().seriesCells(),
        volts);
  }

  /**
   * Counts of refused samples by reason.
   *
   * @param gate the gate that refused them
   * @return most telling words, for one line
   */
  public static String refusals(SampleGate gate) {
    StringBuilder text = new StringBuilder();
    for (Verdict verdict : Verdict.values()) {
      if (verdict != Verdict.ACCEPTED && gate.count(verdict) > 0) {
        text.append(text.isEmpty() ? "" : ", ");
        text.append(gate.count(verdict)).append(' ').append(verdict.words());
      }
    }
    return text.toString();
  }

  /**
   * Time of the line being taken.
   *
   * @return s, in the log
   */
  public double seconds() {
    return seconds;
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
