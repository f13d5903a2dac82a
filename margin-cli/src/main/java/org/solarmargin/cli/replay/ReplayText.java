package org.solarmargin.cli.replay;

import java.io.PrintWriter;
import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.cli.playback.FlightShares;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.verdict.GateCounts;
import picocli.CommandLine.Help.Ansi;

/** The text output of replay: 80 columns; colour only on a terminal and never as the only sign. */
final class ReplayText {

  private static final int SHOWN = 40;
  private static final int WIDTH = 78;
  private static final int LABEL = 11;

  private final Lines out;
  private final Ansi ansi;
  private final Replay replay;
  private final FlightSummary summary;
  private final FlightShares shares;
  private final Conclusion conclusion;
  private final boolean ascii;

  ReplayText(PrintWriter out, Ansi ansi, Replay replay, Conclusion conclusion, boolean ascii) {
    this.ascii = ascii;
    this.out = new Lines(out);
    this.ansi = ansi;
    this.replay = replay;
    this.summary = replay.summary();
    this.shares = replay.shares();
    this.conclusion = conclusion;
  }

  void print(String logName, List<String> notes, List<String> faults) {
    out.line("%s, craft %s", logName, replay.profile().name());
    out.rule();
    for (String line : Wrapped.lines(conclusion.headline(), WIDTH)) {
      out.line("%s", ansi.string("@|bold " + escape(line) + "|@"));
    }
    out.blank();
    for (Finding finding : replay.findings()) {
      out.line("Check      %s", finding.line());
    }
    flight(notes, faults);
    margin();
    levels();
    chart();
    timeline();
    losses();
    advice();
    out.blank();
    out.line("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
  }

  private void flight(List<String> notes, List<String> faults) {
    GateCounts gate = replay.monitor().gate();
    out.line(
        "Log        %s min:s, %d samples, %s in flight",
        Clock.minutes(shares.logSeconds()), gate.samples(), Clock.minutes(shares.flightSeconds()));
    if (!notes.isEmpty()) {
      item("Columns", String.join("; ", notes));
    }
    long refused = Verdicts.refused(gate);
    item("Refused", refused == 0 ? "none" : refused + ": " + Verdicts.refusals(gate));
    if (gate.gaps() > 0) {
      out.line("Gaps       %d longer than half a second", gate.gaps());
    }
    for (String fault : faults) {
      item("Lines", fault);
    }
    item("Estimate", conclusion.estimate());
    if (!replay.timing().isEmpty()) {
      item("Timing", replay.timing());
    }
    if (!replay.ramp().isEmpty()) {
      item("Ramp", replay.ramp());
    }
    String light = conclusion.light();
    if (!light.isEmpty()) {
      item("Light", light);
    }
    if (!conclusion.thermometer().isEmpty()) {
      item("Cells", conclusion.thermometer());
    }
    for (Mark mark : replay.marks().subList(0, Math.min(SHOWN, replay.marks().size()))) {
      String time = mark.timeText().isEmpty() ? "no time" : mark.timeText() + " s";
      out.line("Mark       %s: %s", time, mark.text());
    }
  }

  private void item(String label, String text) {
    String head = label;
    for (String line : Wrapped.lines(text, WIDTH - LABEL)) {
      out.line("%-" + LABEL + "s%s", head, line);
      head = "";
    }
  }

  private void margin() {
    if (summary.hasMargin()) {
      item("Least", conclusion.least());
    }
  }

  private void levels() {
    StringBuilder text = new StringBuilder();
    for (AlertLevel level : List.of(AlertLevel.ADVISORY, AlertLevel.CAUTION, AlertLevel.WARNING)) {
      text.append(String.format(Locale.ROOT, "%s %.1f s  ", level, summary.levelSeconds(level)));
    }
    out.line("Alerts     %s", text.toString().strip());
  }

  private void chart() {
    List<String> lines = replay.chart().lines(ascii);
    if (!lines.isEmpty()) {
      out.blank();
      out.line("Least margin in each interval; alerts below (a, c, W)");
      lines.forEach(out::text);
    }
  }

  private void timeline() {
    List<AlertEvent> events = replay.events();
    if (events.isEmpty()) {
      return;
    }
    out.blank();
    out.line("%8s  %-9s %-8s %s", "min:s", "level", "", "why");
    for (AlertEvent event : events.subList(0, Math.min(SHOWN, events.size()))) {
      String level = String.format(Locale.ROOT, "%-9s", event.level());
      out.line(
          "%8s  %s %-8s %s",
          Clock.minutes(conclusion.since(event.seconds())),
          ansi.string(colour(event) + " " + level + "|@"),
          event.raised() ? "raised" : "cleared",
          why(event, replay.profile().rules()));
    }
    if (replay.eventCount() > SHOWN) {
      out.line("%8s  and %d more: see --alerts", "", replay.eventCount() - SHOWN);
    }
  }

  private static String colour(AlertEvent event) {
    if (!event.raised()) {
      return "@|faint";
    }
    return switch (event.level()) {
      case WARNING -> "@|bold,red";
      case CAUTION -> "@|yellow";
      default -> "@|cyan";
    };
  }

  /** Human-readable reason why an alert was raised or cleared. */
  static String why(AlertEvent event, AlertRules rules) {
    return switch (event.reason()) {
      case LOW_MARGIN ->
          String.format(
              Locale.ROOT,
              "margin at least %.1f %% of peak demand, limit %s %%",
              event.marginLowPercent(),
              plain(rules.of(event.level()).marginPercent()));
      case FALLING ->
          String.format(
              Locale.ROOT,
              "margin used up in %.1f s at this rate, limit %s s",
              event.secondsToZero(),
              plain(rules.of(event.level()).timeSeconds()));
      default -> event.reason().words();
    };
  }

  /** Formats a number as in a profile, such as 10 and 7.5. */
  private static String plain(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  private void losses() {
    if (summary.losses().isEmpty() && summary.touches() == 0) {
      return;
    }
    out.blank();
    List<Loss> losses = summary.losses();
    for (Loss loss : losses.subList(0, Math.min(SHOWN, losses.size()))) {
      out.line(
          "LOSS       past the knee %s to %s (%.1f s), %s",
          Clock.minutes(conclusion.since(loss.startSeconds())),
          Clock.minutes(conclusion.since(loss.endSeconds())),
          loss.endSeconds() - loss.startSeconds(),
          Double.isNaN(loss.warnedSeconds())
              ? "no WARNING before it"
              : String.format(Locale.ROOT, "WARNING %.1f s before", loss.warnedSeconds()));
    }
    if (losses.size() > SHOWN) {
      out.line("LOSS       and %d more", losses.size() - SHOWN);
    }
    if (summary.touches() > 0) {
      out.line("Touches    %d times at the knee for less than 0.3 s", summary.touches());
    }
  }

  private void advice() {
    out.blank();
    for (String part : Wrapped.lines(conclusion.next(), 72)) {
      out.line("%s", part);
    }
  }

  private static String escape(String text) {
    return text.replace("|@", "| @");
  }
}
