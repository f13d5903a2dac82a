package org.solarmargin.cli.compare;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.cli.flightevent.EventFinder;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.cli.flightevent.LeadTimeText;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.playback.LogPlayer;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Unusable;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.cli.tune.rule.VoltageBaseline;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** Alerts of one flight, or of several. */
final class AlertCount {

  /** An interval under WARNING; its end is NaN while the alert is active. */
  private static final class WarningInterval {
    private final double start;
    private double end = Double.NaN;

    WarningInterval(double start) {
      this.start = start;
    }

    boolean covers(double seconds) {
      return start < seconds && !(end < seconds);
    }
  }

  private final int[] raised = new int[AlertLevel.values().length];
  private final List<WarningInterval> warnings = new ArrayList<>();
  private final List<Double> leads = new ArrayList<>();
  private double warningSeconds;
  private double lastSeconds;
  private Optional<Unusable> unusable = Optional.empty();
  private List<FlightEvent> events = List.of();
  private final VoltageBaseline.Flight voltage = new VoltageBaseline.Flight();

  /** Replays a log under a profile. */
  static AlertCount of(CraftProfile profile, Path log, ColumnMap columns) throws IOException {
    AlertCount count = new AlertCount();
    EventFinder finder = new EventFinder(profile.brownoutVolts());
    double[] now = {0};
    LogPlayer[] player = new LogPlayer[1];
    player[0] =
        new LogPlayer(
            LogTiming.of(profile, log, columns).profile(),
            (time, level, isRaised, why, margin, toZero) ->
                count.take(player[0].seconds(), level, isRaised));
    try (LogReader reader = new LogReader(log, columns);
        Progress none = Progress.none()) {
      player[0].play(
          reader,
          none,
          (seconds, verdict) -> {
            now[0] = Double.isNaN(seconds) ? 0 : seconds;
            finder.mark(seconds, reader.event());
            MarginMonitor monitor = player[0].monitor();
            double volts = reader.value(Column.VOLTS);
            boolean taken = Verdicts.usable(verdict);
            if (taken) {
              finder.take(
                  seconds,
                  volts,
                  reader.value(Column.THROTTLE),
                  monitor.airborne(),
                  monitor.reading());
            }
            if (player[0].timeMoved()) {
              count.voltage.take(seconds, volts, monitor, taken);
            }
          });
    }
    count.unusable = player[0].unusable();
    finder.finish();
    count.events = finder.events();
    count.finish(now[0]);
    return count;
  }

  private void take(double seconds, AlertLevel level, boolean isRaised) {
    if (isRaised) {
      raised[level.ordinal()]++;
    }
    if (level == AlertLevel.WARNING) {
      if (isRaised) {
        warnings.add(new WarningInterval(seconds));
      } else if (!warnings.isEmpty()) {
        warnings.get(warnings.size() - 1).end = seconds;
      }
    }
    lastSeconds = seconds;
  }

  private void finish(double end) {
    for (WarningInterval interval : warnings) {
      warningSeconds +=
          (Double.isNaN(interval.end) ? Math.max(end, lastSeconds) : interval.end) - interval.start;
    }
    for (FlightEvent event : events) {
      leads.add(
          warnings.stream()
              .filter(s -> s.covers(event.seconds()))
              .mapToDouble(s -> event.seconds() - s.start)
              .findFirst()
              .orElse(Double.NaN));
    }
  }

  void add(AlertCount other) {
    for (int i = 0; i < raised.length; i++) {
      raised[i] += other.raised[i];
    }
    leads.addAll(other.leads);
    warningSeconds += other.warningSeconds;
  }

  /** Adds the replayed flight to a baseline of fixed voltage alarms. */
  void addTo(VoltageBaseline baseline) {
    baseline.add(voltage, events);
  }

  String raises() {
    return raised[AlertLevel.WARNING.ordinal()]
        + " / "
        + raised[AlertLevel.CAUTION.ordinal()]
        + " / "
        + raised[AlertLevel.ADVISORY.ordinal()];
  }

  /** Why the flight's estimates, and so its alerts, cannot be relied on; empty if they can. */
  Optional<Unusable> unusable() {
    return unusable;
  }

  double warningSeconds() {
    return warningSeconds;
  }

  /** Lead times of one flight's events, human-readable. */
  String leads() {
    StringBuilder text = new StringBuilder();
    for (double lead : leads) {
      text.append(text.isEmpty() ? "" : ", ");
      text.append(
          Double.isNaN(lead) ? "MISSED" : String.format(Locale.ROOT, "%.1f s before", lead));
    }
    return text.isEmpty() ? "no event" : text.toString();
  }

  /** Lead times of all events, summarised in one phrase. */
  String total() {
    int missed = (int) leads.stream().filter(l -> Double.isNaN(l)).count();
    double[] sorted = leads.stream().mapToDouble(l -> Double.isNaN(l) ? 0 : l).sorted().toArray();
    double median = sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
    return LeadTimeText.of(sorted.length, missed, median);
  }
}
