package org.solarmargin.cli.replay;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.text.Progress;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Drives one log through the monitor, in constant memory. */
final class Replay {

  private static final double NANOS_PER_SECOND = 1e9;
  private static final int KEPT_EVENTS = 10_000;

  private final CraftProfile profile;
  private final EstimatesCsv estimates;
  private final AlertsCsv alerts;
  private final FlightSummary summary = new FlightSummary();
  private final List<AlertEvent> events = new ArrayList<>();
  private final List<String> marks = new ArrayList<>();
  private final MarginMonitor monitor;

  private LogReader log;
  private double origin = Double.NaN;
  private double seconds;
  private long eventCount;
  private IOException outputFault;

  /** Either output may be null. */
  Replay(CraftProfile profile, EstimatesCsv estimates, AlertsCsv alerts) {
    this.profile = profile;
    this.estimates = estimates;
    this.alerts = alerts;
    this.monitor = new MarginMonitor(profile.settings(), profile.rules(), this::onAlert);
  }

  /**
   * Runs the log to its end.
   *
   * @throws InputFault if the log cannot be this craft's, or has no usable sample
   * @throws IOException if an output cannot be written
   */
  void run(LogReader reader, Progress progress) throws IOException {
    log = reader;
    while (reader.next()) {
      step(reader);
      if (progress.due()) {
        progress.step((double) reader.bytesRead());
      }
    }
    summary.finish();
    if (outputFault != null) {
      throw outputFault;
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
              + ReplayText.refusals(monitor.gate())
              + ": check the columns and their units (--column)");
    }
  }

  private void step(LogReader reader) throws IOException {
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
    if (!reader.event().isEmpty() && marks.size() < KEPT_EVENTS) {
      marks.add(reader.timeText() + " s: " + reader.event());
    }
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
    if (verdict == Verdict.ACCEPTED) {
      summary.take(time, monitor.reading(), monitor.level(), monitor.airborne());
      if (estimates != null) {
        estimates.write(reader.timeText(), monitor.reading(), monitor.level());
      }
    }
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

  private void onAlert(
      long timeNanos,
      AlertLevel level,
      boolean raised,
      AlertReason reason,
      double marginLowPercent,
      double secondsToZero) {
    AlertEvent event =
        new AlertEvent(
            seconds, log.timeText(), level, raised, reason, marginLowPercent, secondsToZero);
    eventCount++;
    if (events.size() < KEPT_EVENTS) {
      events.add(event);
    }
    if (alerts != null && outputFault == null) {
      try {
        alerts.write(event);
      } catch (IOException e) {
        outputFault = e;
      }
    }
  }

  FlightSummary summary() {
    return summary;
  }

  List<AlertEvent> events() {
    return events;
  }

  /** All steps of the alerts, those that were not kept included. */
  long eventCount() {
    return eventCount;
  }

  List<String> marks() {
    return marks;
  }

  MarginMonitor monitor() {
    return monitor;
  }

  CraftProfile profile() {
    return profile;
  }
}
