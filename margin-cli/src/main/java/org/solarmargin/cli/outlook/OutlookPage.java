package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.LocalDate;
import java.time.Year;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import org.solarmargin.cli.report.ChartSpec;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.core.alert.AlertRules;

/** The page of a forecast day, optionally with its year. */
final class OutlookPage {

  private final DayAnswer answer;
  private final DayQuestion asked;
  private final List<Moment> moments;
  private final AlertRules rules;
  private final Optional<Season> season;
  private final Optional<FlownOutlook> flown;
  private final Html html = new Html();
  private final List<ChartSpec> charts = new ArrayList<>();

  /** Creates the page of a day, optionally with its year and a flight. */
  OutlookPage(DayAnswer answer, Optional<Season> season, Optional<FlownOutlook> flown) {
    this.answer = answer;
    this.flown = flown;
    this.season = season;
    asked = answer.asked();
    moments = answer.moments();
    rules = asked.profile().rules();
  }

  void write(Writer to) throws IOException {
    String title = asked.profile().name() + " on " + asked.date();
    html.element("p class=\"over\"", title + ": " + asked.words());
    html.element("h1", OutlookText.headline(moments, asked));
    for (String sentence : OutlookText.bestSentences(moments, asked.outlook())) {
      html.element("p class=\"least\"", sentence);
    }
    Page.safetyOf(html);
    flown.ifPresent(this::flight);
    if (!moments.isEmpty()) {
      day();
    }
    season.ifPresent(this::year);
    windows();
    changes();
    html.element("h2", "Basis of this forecast");
    for (String sentence : OutlookText.basis(asked)) {
      html.element("p", sentence);
    }
    Page.write(to, title + " - outlook", html, ChartSpec.data(charts));
  }

  private void day() {
    chart(
        "power-ahead",
        "Power under a clear sky, W",
        "The array's power through a clear day with its 95 % bounds, and hover power",
        300,
        List.of(
            new Curve("available", "power", "line", Moment::availableWatts),
            new Curve("at least", "power", "dot", Moment::lowWatts),
            new Curve("at most", "soft", "dot", Moment::highWatts),
            new Curve("hover", "load", "dash", Moment::demandWatts)),
        true);
    chart(
        "light-ahead",
        "Light in the array's plane, W/m2",
        "Light through the day",
        170,
        List.of(new Curve("light", "second", "line", m -> 1000 * m.suns())),
        true);
    chart(
        "heat-ahead",
        "Temperature, \u00b0C",
        "Temperature of cells and air through the day",
        170,
        List.of(
            new Curve("cells", "load", "line", Moment::cellCelsius),
            new Curve("air", "power", "dash", Moment::airCelsius)),
        false);
    chart(
        "throttle-ahead",
        "Throttle ceiling",
        "The steady throttle that draws all available power, through the day",
        170,
        List.of(
            new Curve(
                "ceiling", "second", "line", m -> m.ceiling() > 0 ? m.ceiling() : Double.NaN)),
        true);
  }

  /** A curve of a day. */
  private record Curve(String name, String colour, String style, ToDoubleFunction<Moment> value) {

    /** Lengths of dashes and gaps, pixels. */
    int[] dash() {
      return switch (style) {
        case "dot" -> new int[] {2, 4};
        case "dash" -> new int[] {9, 4};
        default -> new int[0];
      };
    }
  }

  private void chart(
      String id, String title, String summary, int height, List<Curve> curves, boolean fromZero) {
    html.chart(
        id,
        title,
        curves.stream().map(c -> Html.key(c.name(), c.colour(), c.style())).toList(),
        summary);
    html.raw("<p class=\"over screen\" id=\"" + id + "-at\">&nbsp;</p>");
    String unit = title.contains(", ") ? title.substring(title.indexOf(", ") + 2) : "share";
    ChartSpec chart = new ChartSpec(id, height, "", unit, fromZero);
    chart.clock();
    chart.xRange(moments.get(0).hour(), moments.get(moments.size() - 1).hour());
    for (Curve curve : curves) {
      int place = chart.curve(curve.name(), "--" + curve.colour(), curve.dash());
      for (Moment m : moments) {
        double value = curve.value().applyAsDouble(m);
        if (!Double.isNaN(value)) {
          chart.put(place, m.hour(), value);
        }
      }
    }
    charts.add(chart);
  }

  private void flight(FlownOutlook flight) {
    html.element("h2", "Flight compared with the forecast: " + flight.flight().name());
    html.element("p", flight.when());
    List<List<String>> rows = new ArrayList<>();
    for (FlownOutlook.Difference d : flight.all()) {
      String unit = d.subject() == FlownOutlook.Subject.HEAT ? "K" : "%";
      rows.add(
          List.of(
              Html.safe(d.subject().words()),
              Html.cell("%.3g", d.forecast()),
              Html.cell("%.3g", d.measured()),
              Html.cell("%+.0f %s", d.off(), unit),
              Html.cell("%.0f %s", d.uncertainty(), unit),
              Html.cell("%+.0f", d.points())));
    }
    double[] margins = flight.margins();
    rows.add(
        List.of(
            "margin, %",
            Html.cell("%+.0f", margins[0]),
            Html.cell("%+.0f", margins[1]),
            Html.cell("%+.0f", margins[1] - margins[0]),
            "",
            ""));
    html.table(
        "Flight compared with the forecast",
        List.of("median", ">forecast", ">measured", ">off", ">+/-", ">points of margin"),
        rows);
    flight.findings().forEach(sentence -> html.element("p", sentence));
    html.element("p class=\"over\"", FlownOutlook.NOTE);
  }

  private void year(Season year) {
    html.element("h2", "The year " + asked.date().getYear());
    year.sentences().forEach(sentence -> html.element("p", sentence));
    html.chart(
        "year-ahead",
        "Longest window without WARNING, hours",
        List.of(Html.key("clear day", "power", "line"), Html.key("that day", "load", "ring")),
        String.join(" ", year.sentences()));
    html.raw("<p class=\"over screen\" id=\"year-ahead-at\">&nbsp;</p>");
    ChartSpec chart = new ChartSpec("year-ahead", 240, "", "hours", true);
    chart.calendar(asked.date().getYear());
    int curve = chart.curve("clear day", "--power");
    int day = chart.dots("that day", "--load", 9, false);
    Map<LocalDate, Double> hours = year.hours();
    hours.forEach((date, value) -> chart.put(curve, date.getDayOfYear(), value));
    chart.put(day, asked.date().getDayOfYear(), hours.get(asked.date()));
    chart.xRange(1, Year.of(asked.date().getYear()).length());
    charts.add(chart);
  }

  private void windows() {
    html.element("h2", "Windows under a clear sky");
    List<List<String>> rows = new ArrayList<>();
    OutlookText.windows(moments, rules, asked.step())
        .forEach((name, span) -> rows.add(List.of(Html.safe(name), Html.safe(span))));
    html.table("Windows", List.of("lower bound of the margin", "longest span"), rows);
  }

  private void changes() {
    html.element("h2", "What if");
    html.raw("<div class=\"whole\">");
    List<List<String>> rows = new ArrayList<>();
    answer.changes().forEach(outcome -> rows.add(row(outcome)));
    html.table(
        "Effects of changes",
        List.of("change", ">best margin, %", ">at least, %", ">no WARNING"),
        rows);
    html.raw("</div>");
    OutlookText.notes(asked).forEach(note -> html.element("p", note));
    List<List<String>> effects = new ArrayList<>();
    for (Sensitivity.Effect effect : answer.effects()) {
      effects.add(
          List.of(
              Html.safe(effect.words()),
              Html.cell("%+.3f", effect.points()),
              Double.isNaN(effect.grams()) ? "-" : Html.cell("%.1f", effect.grams())));
    }
    html.element("h2", "Sensitivity at the best hour");
    html.table("Sensitivity", List.of("change", ">points of margin", ">equivalent grams"), effects);
  }

  private static List<String> row(WhatIf.Outcome outcome) {
    return List.of(
        Html.safe(outcome.words()),
        outcome.best().map(m -> Html.cell("%+.1f", m.marginPercent())).orElse("-"),
        outcome.best().map(m -> Html.cell("%+.1f", m.lowPercent())).orElse("-"),
        Html.safe(outcome.window().map(OutlookText::ends).orElse("none")));
  }
}
