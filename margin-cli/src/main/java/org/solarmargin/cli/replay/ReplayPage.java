package org.solarmargin.cli.replay;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.cli.report.FlightTrace;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.cli.report.TracePage;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.GateCounts;

/** The page of one flight. */
final class ReplayPage {

  private static final int SHOWN = 300;
  private static final List<AlertLevel> LEVELS =
      List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY);

  private final Replay replay;
  private final FlightTrace trace;
  private final Conclusion conclusion;
  private final Html html = new Html();

  ReplayPage(Replay replay, FlightTrace trace, Conclusion conclusion) {
    this.replay = replay;
    this.trace = trace;
    this.conclusion = conclusion;
  }

  void write(String logName, List<String> faults, Writer to) throws IOException {
    FlightSummary summary = replay.summary();
    CraftProfile profile = replay.profile();
    html.element("p class=\"over\"", logName + ", craft " + profile.name());
    html.element("h1", conclusion.headline());
    html.element(
        "p class=\"least\"",
        (replay.summary().hasMargin() ? "Least margin: " : "") + conclusion.least());
    html.element("p", conclusion.next());
    for (Finding finding : replay.findings()) {
      html.element("p class=\"least\"", "Check: " + finding.line());
    }
    Page.safetyOf(html);
    html.element(
        "p class=\"over screen\"",
        "Knee: the maximum power point; below its voltage more throttle gives less power. At least,"
            + " or lower bound: the value that the truth exceeds with 95 % probability. Lift"
            + " reserve: how much more lift the available power could sustain.");
    if (trace.taken() > 0) {
      new TracePage(trace, html).charts();
    }
    alerts();
    losses();
    rules();
    quality(faults);
    settings(profile);
    double startAt =
        summary.losses().isEmpty()
            ? summary.hasMargin() ? summary.smallestMarginSeconds() : 0
            : summary.losses().get(0).startSeconds();
    JsonObject data = trace.json(profile.settings(), startAt);
    data.add("marks", marks());
    data.add("losses", lossTimes());
    Page.write(to, logName + " - power margin", html, data);
  }

  private JsonArray marks() {
    JsonArray all = new JsonArray();
    for (Mark mark : replay.marks()) {
      if (Double.isNaN(mark.seconds())) {
        continue; // marks before the first time appear only in the table
      }
      JsonObject one = new JsonObject();
      one.addProperty("t", since(mark.seconds()));
      one.addProperty("text", mark.text());
      all.add(one);
    }
    return all;
  }

  private JsonArray lossTimes() {
    JsonArray all = new JsonArray();
    summary().losses().forEach(loss -> all.add(since(loss.startSeconds())));
    return all;
  }

  private FlightSummary summary() {
    return replay.summary();
  }

  private double since(double seconds) {
    return Math.rint((seconds - trace.origin()) * 1000) / 1000;
  }

  private String go(double seconds) {
    return "<button type=\"button\" data-go=\""
        + since(seconds)
        + "\">"
        + Html.safe(Clock.minutes(since(seconds)))
        + "</button>";
  }

  private void alerts() {
    html.element("h2", "Alerts");
    List<AlertEvent> events = replay.events();
    if (events.isEmpty()) {
      html.element("p", "No alert was raised.");
      return;
    }
    List<List<String>> rows = new ArrayList<>();
    for (AlertEvent event : events.subList(0, Math.min(SHOWN, events.size()))) {
      rows.add(
          List.of(
              go(event.seconds()),
              "<span class=\"level " + event.level() + "\">" + event.level() + "</span>",
              event.raised() ? "raised" : "cleared",
              Html.safe(ReplayText.why(event, replay.profile().rules()))));
    }
    html.table("Alerts by time", List.of("min:s", "level", "step", "why"), rows);
    if (replay.eventCount() > SHOWN) {
      html.element("p", "and " + (replay.eventCount() - SHOWN) + " more: see --alerts");
    }
  }

  private void losses() {
    List<List<String>> rows = new ArrayList<>();
    for (Loss loss : replay.summary().losses()) {
      if (rows.size() < SHOWN) {
        rows.add(
            List.of(
                go(loss.startSeconds()),
                Html.cell("%.1f", loss.endSeconds() - loss.startSeconds()),
                Double.isNaN(loss.warnedSeconds())
                    ? "<b>none</b>"
                    : Html.cell("%.1f s before", loss.warnedSeconds())));
      }
    }
    if (!rows.isEmpty()) {
      html.element("h2", "Losses: past the knee");
      html.table("Losses", List.of("min:s", ">lasted s", "WARNING raised"), rows);
      html.element(
          "p", "Past the knee, CLOSE the throttle to the ceiling; opening it drops the craft.");
    }
    List<List<String>> marks = new ArrayList<>();
    for (Mark mark : replay.marks()) {
      if (marks.size() < SHOWN) {
        marks.add(
            List.of(
                Double.isNaN(mark.seconds()) ? "" : go(mark.seconds()), Html.safe(mark.text())));
      }
    }
    if (!marks.isEmpty()) {
      html.element("h2", "The pilot's marks");
      html.table("Marks", List.of("min:s", "mark"), marks);
    }
  }

  private void rules() {
    html.raw("<section class=\"screen\">");
    html.element("h2", "Alert rules");
    for (AlertLevel level : LEVELS) {
      html.element("p", replay.profile().rules().words(level));
    }
    html.raw("</section>");
  }

  private void quality(List<String> faults) {
    GateCounts gate = replay.monitor().gate();
    long refused = Verdicts.refused(gate);
    html.element("h2", "Data");
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("samples", Html.cell("%d", gate.samples())));
    rows.add(
        List.of(
            "refused",
            Html.safe(refused == 0 ? "none" : refused + ": " + Verdicts.refusals(gate))));
    rows.add(List.of("estimate", Html.safe(conclusion.estimate())));
    if (!replay.timing().isEmpty()) {
      rows.add(List.of("timing", Html.safe(replay.timing())));
    }
    if (!replay.ramp().isEmpty()) {
      rows.add(List.of("ramp", Html.safe(replay.ramp())));
    }
    if (!conclusion.light().isEmpty()) {
      rows.add(List.of("light", Html.safe(conclusion.light())));
    }
    if (!conclusion.thermometer().isEmpty()) {
      rows.add(List.of("thermometer", Html.safe(conclusion.thermometer())));
    }
    rows.add(List.of("gaps over half a second", Html.cell("%d", gate.gaps())));
    for (String fault : faults) {
      rows.add(List.of("lines", Html.safe(fault)));
    }
    if (trace.truthKnown()) {
      rows.add(
          List.of(
              "against the truth",
              Html.cell(
                  "rms error %.2f %%, lower bound holds %.1f %% of the time",
                  trace.rmsPercent(), trace.heldPercent())));
    }
    rows.add(
        List.of(
            "shown here",
            Html.cell(
                "%d of %d accepted samples; all minima, maxima and alerts are kept",
                trace.shown(), trace.taken())));
    html.table("Data quality", List.of("what", "figure"), rows);
  }

  private void settings(CraftProfile profile) {
    html.raw("<section class=\"screen\">");
    html.element("h2", "Settings");
    var s = profile.settings();
    List<List<String>> rows = new ArrayList<>();
    rows.add(
        List.of(
            "cells",
            Html.cell("%d in series, %d in parallel", s.seriesCells(), s.parallelStrings())));
    rows.add(
        List.of(
            "one cell",
            Html.cell(
                "photocurrent %.4g A, saturation %.3g A, ideality %.4g, series %.4g ohm, shunt %.4g"
                    + " ohm",
                s.cell().photocurrentAmps(),
                s.cell().saturationAmps(),
                s.cell().ideality(),
                s.cell().seriesOhms(),
                s.cell().shuntOhms())));
    rows.add(
        List.of(
            "its sigma",
            Html.cell(
                "series %.3g %%, ideality %.3g %%",
                100 * s.cellSpread().seriesLogSd(), 100 * s.cellSpread().idealityLogSd())));
    rows.add(
        List.of(
            "heat",
            Html.cell(
                "air %.0f \u00b0C, rise in full sun %.0f K, time constant %.0f s",
                s.thermal().ambientCelsius(),
                s.thermal().sunRiseKelvin(),
                s.thermal().timeConstantSeconds())));
    rows.add(
        List.of(
            "hover",
            String.format(
                Locale.ROOT,
                "throttle %.2f, %.0f W at %.1f V%s",
                s.rotor().hoverThrottle(),
                s.rotor().hoverWatts(),
                s.rotor().hoverBusVolts(),
                s.rotor().known() ? "" : " (assumed)")));
    rows.add(
        List.of(
            "sensors, 1 sigma",
            Html.cell(
                "noise %.3g V and %.3g A, gains %.2g %% and %.2g %%, offset %.3g A",
                s.sensors().voltageNoiseVolts(),
                s.sensors().currentNoiseAmps(),
                100 * s.sensors().voltageGainSd(),
                100 * s.sensors().currentGainSd(),
                s.sensors().currentOffsetSdAmps())));
    html.table("Settings used", List.of("what", "value"), rows);
    html.raw("</section>");
  }
}
