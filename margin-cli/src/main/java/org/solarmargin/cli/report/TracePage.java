package org.solarmargin.cli.report;

import java.util.DoubleSummaryStatistics;
import java.util.List;
import java.util.Locale;
import java.util.function.ToDoubleFunction;

/** The charts of a flight and the values at the cursor. */
public final class TracePage {

  private static final String[][] NOW = {
    {"time", "time"},
    {"level", "alert"},
    {"status", "estimate"},
    {"available", "available"},
    {"low", "at least (95 %)"},
    {"demand", "demand"},
    {"margin", "margin"},
    {"lift", "lift reserve"},
    {"volts", "bus voltage"},
    {"mppVolts", "knee voltage"},
    {"amps", "bus current"},
    {"throttle", "throttle"},
    {"ceiling", "throttle ceiling"},
    {"suns", "light"},
    {"cellC", "cells"}
  };

  private final FlightTrace trace;
  private final Html html;

  /**
   * Creates the charts of a trace.
   *
   * @param trace the flight, finished
   * @param html receives the charts
   */
  public TracePage(FlightTrace trace, Html html) {
    this.trace = trace;
    this.html = html;
  }

  /** Writes them. */
  public void charts() {
    html.element("h2 class=\"alt\"", "Charts");
    html.raw("<div class=\"bar\" role=\"toolbar\" aria-label=\"Zoom\">");
    String[][] acts = {
      {"all", "whole flight"},
      {"closer", "zoom in"},
      {"wider", "zoom out"},
      {"earlier", "earlier"},
      {"later", "later"}
    };
    for (String[] act : acts) {
      html.raw("<button type=\"button\" data-act=\"" + act[0] + "\">" + act[1] + "</button>");
    }
    html.raw("</div>");
    html.element(
        "p class=\"over screen\"",
        "Drag or pinch to zoom, in all charts at once. Keys in a chart: arrows move the cursor"
            + " (with shift, farther), + and - zoom, 0 shows all.");
    List<String> power =
        new java.util.ArrayList<>(
            List.of(
                Html.key("available", "power", "line"),
                Html.key("to its lower bound", "band", "area"),
                Html.key("demand", "load", "dash")));
    if (trace.truthKnown()) {
      power.add(Html.key("truth", "truth", "dot"));
    }
    html.raw("<p class=\"brief screen\" id=\"brief\">&nbsp;</p>");
    html.chart(
        "power",
        "Power, W",
        power,
        range("Available", row -> row.power().available(), "W")
            + "; "
            + range("demand", row -> row.power().demand(), "W"));
    html.chart(
        "voltage",
        "Bus voltage, V",
        List.of(Html.key("bus", "load", "dash"), Html.key("at the knee", "second", "line")),
        range("Bus", row -> row.read().volts(), "V")
            + "; "
            + range("knee", row -> row.power().mppVolts(), "V"));
    html.chart(
        "throttle",
        "Throttle",
        List.of(Html.key("throttle", "load", "dash"), Html.key("ceiling", "second", "line")),
        range("Throttle", row -> row.read().throttle(), "")
            + "; "
            + range("ceiling", row -> row.power().ceiling(), ""));
    html.chart(
        "strip",
        "Estimate above, refused samples below",
        List.of(
            Html.key("sharp", "power", "area"),
            Html.key("coarse", "second", "striped"),
            Html.key("warming up", "soft", "area"),
            Html.key("past the knee, refused", "warning", "area")),
        "Status of the estimate over time, and where samples were refused");
    cursor();
  }

  private void cursor() {
    html.element("h2", "At the cursor");
    html.raw("<div class=\"at\"><dl class=\"now\" aria-live=\"polite\">");
    for (String[] entry : NOW) {
      html.element("dt", entry[1]);
      html.raw("<dd data-now=\"" + entry[0] + "\">-</dd>");
    }
    if (trace.truthKnown()) {
      html.element("dt", "truth");
      html.raw("<dd data-now=\"truth\">-</dd>");
    }
    html.raw("</dl>");
    html.chart(
        "curve",
        "Array's curve",
        List.of(
            Html.key("curve", "power", "line"),
            Html.key("craft", "load", "ring"),
            Html.key("knee", "second", "ring")),
        "Current over voltage at the cursor, with the operating point and the knee");
    html.raw("</div>");
  }

  private String range(String name, ToDoubleFunction<FlightRow> value, String unit) {
    DoubleSummaryStatistics s =
        trace.rows().stream().mapToDouble(value).filter(Double::isFinite).summaryStatistics();
    return s.getCount() == 0
        ? name + " not known"
        : String.format(Locale.ROOT, "%s from %.3g to %.3g %s", name, s.getMin(), s.getMax(), unit)
            .strip();
  }
}
