package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;
import org.solarmargin.cli.report.ChartSpec;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;

/** The page of a logbook. */
final class LogbookPage {

  private final Logbook logbook;
  private final DayQuestion asked;
  private final List<String> leftOut;
  private final Html html = new Html();
  private final List<ChartSpec> charts = new ArrayList<>();

  LogbookPage(Logbook logbook, DayQuestion asked, List<String> leftOut) {
    this.logbook = logbook;
    this.asked = asked;
    this.leftOut = leftOut;
  }

  void write(Writer to) throws IOException {
    String title = asked.profile().name() + " - logbook";
    List<FlownOutlook> flights = logbook.flights();
    html.element(
        "p class=\"over\"",
        String.format(
            Locale.ROOT,
            "%s: %d flights from %s to %s",
            asked.profile().name(),
            flights.size(),
            flights.get(0).from().toLocalDate(),
            flights.get(flights.size() - 1).from().toLocalDate()));
    List<String> sentences = logbook.sentences();
    html.element("h1", sentences.get(0));
    sentences.subList(1, sentences.size()).forEach(s -> html.element("p class=\"least\"", s));
    Page.safetyOf(html);
    chart("light-trend", "Light relative to a clear sky, %", FlownOutlook::lightRatio, true);
    chart(
        "hover-trend", "Hover power relative to the forecast, %", FlownOutlook::hoverRatio, false);
    table();
    if (!leftOut.isEmpty()) {
      html.element("h2", "Left out");
      leftOut.forEach(line -> html.element("p", line));
    }
    html.element("h2", "Basis of these figures");
    html.element("p", Logbook.NOTE);
    OutlookText.basis(asked).forEach(line -> html.element("p", line));
    Page.write(to, title, html, ChartSpec.data(charts));
  }

  private void chart(
      String id, String title, ToDoubleFunction<FlownOutlook> ratio, boolean ofLight) {
    Trend trend = ofLight ? logbook.light() : logbook.hover();
    List<FlownOutlook> used = ofLight ? logbook.steady() : logbook.flights();
    List<String> keys = new ArrayList<>(List.of(Html.key("flight", "power", "ring")));
    if (ofLight && used.size() < logbook.flights().size()) {
      keys.add(Html.key("moving light, left out", "soft", "ring"));
    }
    if (trend.kind() != Trend.Kind.TOO_FEW) {
      keys.add(Html.key("trend", "load", "line"));
    }
    html.chart(id, title, keys, logbook.sentences().get(ofLight ? 0 : 1));
    html.raw("<p class=\"over screen\" id=\"" + id + "-at\">&nbsp;</p>");
    ChartSpec chart = new ChartSpec(id, 240, "days since the first flight", "%", false);
    int dots = chart.dots("flight", "--power", 8, false);
    int others = chart.dots("moving light", "--soft", 8, false);
    int line = chart.curve("trend", "--load");
    for (FlownOutlook flight : logbook.flights()) {
      double day = logbook.day(flight);
      chart.put(used.contains(flight) ? dots : others, day, 100 * ratio.applyAsDouble(flight));
    }
    for (int i = 0; i < used.size() && trend.kind() != Trend.Kind.TOO_FEW; i++) {
      double day = logbook.day(used.get(i));
      chart.put(line, day, trend.at(day, i));
    }
    charts.add(chart);
  }

  private void table() {
    html.element("h2", "Flights");
    List<List<String>> rows = new ArrayList<>();
    for (FlownOutlook f : logbook.flights()) {
      rows.add(
          List.of(
              Html.safe(f.from().toLocalDate() + " " + OutlookText.CLOCK.format(f.from())),
              Html.safe(f.flight().name()),
              Html.cell("%.1f", f.minutes()),
              Html.cell("%.1f", 100 * f.lightRatio()),
              Html.cell("%+.1f", f.heatOff()),
              Html.cell("%.1f", 100 * f.hoverRatio()),
              Html.cell("%.0f", 100 * f.flight().unevenShare()),
              f.movingLight() ? "moving light" : ""));
    }
    html.raw("<div class=\"whole\">");
    html.table(
        "Flights",
        List.of(
            "start", "log", ">min", ">light %", ">cells K off", ">hover %", ">dim cells %", "note"),
        rows);
    html.raw("</div>");
  }
}
