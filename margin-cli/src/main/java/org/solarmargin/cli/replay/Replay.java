package org.solarmargin.cli.replay;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.log.TruthReader;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.cli.playback.FlightShares;
import org.solarmargin.cli.playback.LogPlayer;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Unusable;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.cli.ramp.RampFinder;
import org.solarmargin.cli.ramp.RampText;
import org.solarmargin.cli.report.FlightTrace;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;

/** Replays one log through the monitor and collects the results, in constant memory. */
final class Replay {

  private static final int KEPT_EVENTS = 10_000;

  private final CraftProfile profile;
  private final String timing;
  private final EstimatesCsv estimates;
  private final AlertsCsv alerts;
  private final FlightTrace trace;
  private final TruthReader truth;
  private final FlightSummary summary = new FlightSummary();
  private final MarginChart chart = new MarginChart();
  private final List<AlertEvent> events = new ArrayList<>();
  private final List<Mark> marks = new ArrayList<>();
  private final LogPlayer player;
  private final RampFinder ramps;
  private final double irradiance;

  private LogReader log;
  private long eventCount;
  private String lastEvent = "";
  private AlertLevel highest = AlertLevel.NONE;
  private IOException outputFault;
  private String ramp = "";

  /** Outputs, trace and truth may be null; the irradiance at a ramp, W/m2, may be NaN. */
  Replay(
      LogTiming timing,
      double irradiance,
      EstimatesCsv estimates,
      AlertsCsv alerts,
      FlightTrace trace,
      TruthReader truth) {
    this.trace = trace;
    this.truth = truth;
    this.profile = timing.profile();
    this.timing = timing.line();
    this.estimates = estimates;
    this.alerts = alerts;
    this.player = new LogPlayer(profile, this::onAlert);
    this.ramps = new RampFinder(profile.settings().rotor().hoverThrottle());
    this.irradiance = irradiance;
  }

  /**
   * Replays the log to its end.
   *
   * @throws InputFault if the log cannot come from this craft, or has no samples
   * @throws IOException if an output cannot be written
   */
  void run(LogReader reader, Progress progress) throws IOException {
    log = reader;
    player.play(reader, progress, this::take);
    summary.finish();
    ramp = RampText.of(profile.settings(), ramps.points(), irradiance);
    if (outputFault != null) {
      throw outputFault;
    }
  }

  private void take(double seconds, Verdict verdict) throws IOException {
    String event = log.event();
    if (!event.isEmpty() && !event.equals(lastEvent) && marks.size() < KEPT_EVENTS) {
      marks.add(new Mark(seconds, log.timeText(), event));
    }
    lastEvent = event;
    double truthWatts = Double.NaN;
    if (truth != null) {
      truth.next();
      truthWatts = truth.value(0);
    }
    if (player.timeMoved()) {
      // outliers included, because readings change fast past the knee
      ramps.take(
          seconds,
          log.value(Column.VOLTS),
          log.value(Column.AMPS),
          log.value(Column.THROTTLE),
          log.value(Column.CELL));
    }
    if (!Verdicts.usable(verdict)) {
      refuse(seconds);
      return;
    }
    MarginMonitor monitor = player.monitor();
    chart.take(seconds, monitor.reading(), monitor.level());
    summary.take(seconds, monitor.reading(), monitor.level(), log.value(Column.CELL));
    if (trace != null) {
      trace.take(
          seconds,
          log.value(Column.VOLTS),
          log.value(Column.AMPS),
          log.value(Column.THROTTLE),
          monitor.reading(),
          monitor.level(),
          truthWatts);
    }
    if (estimates != null) {
      estimates.write(
          log.timeText(), monitor.reading(), monitor.level(), monitor.alertMarginPercent());
    }
  }

  private void refuse(double seconds) throws IOException {
    if (trace != null && player.timeMoved()) {
      trace.refuse(seconds);
    }
    if (estimates != null) {
      estimates.writeRefused(log.timeText(), player.monitor().level());
    }
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
            player.seconds(),
            log.timeText(),
            level,
            raised,
            reason,
            marginLowPercent,
            secondsToZero);
    eventCount++;
    highest = raised && level.compareTo(highest) > 0 ? level : highest;
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

  MarginChart chart() {
    return chart;
  }

  FlightSummary summary() {
    return summary;
  }

  List<AlertEvent> events() {
    return events;
  }

  /** Number of alerts raised and cleared, including those not kept. */
  long eventCount() {
    return eventCount;
  }

  /** The highest level that was raised. */
  AlertLevel highest() {
    return highest;
  }

  List<Mark> marks() {
    return marks;
  }

  FlightShares shares() {
    return player.shares();
  }

  /** Faults of the log as a whole. */
  List<Finding> findings() {
    return player.findings();
  }

  /** Why the estimates cannot be relied on; empty if they can. */
  Optional<Unusable> unusable() {
    return player.unusable();
  }

  MarginMonitor monitor() {
    return player.monitor();
  }

  /** Message about the logger's timing; empty if there is none. */
  String timing() {
    boolean lost =
        profile.settings().timing().throttleUsed()
            && player.monitor().timingStatus() == TimingStatus.LEFT_OUT;
    return lost
        ? "innovations correlate with throttle movements, so the time model is wrong: the throttle"
            + " was left out from then on, and the interval is wide; measure the timing with"
            + " margin fit logger"
        : timing;
  }

  /** Conclusions from a slow throttle ramp; empty without one. */
  String ramp() {
    return ramp;
  }

  CraftProfile profile() {
    return profile;
  }
}
