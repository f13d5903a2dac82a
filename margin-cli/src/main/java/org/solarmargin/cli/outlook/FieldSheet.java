package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.format.TouchVoltage;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.array.SolarArray;

/** One page of A4 for the field: times, reserve, throttle ceiling and checklists. */
final class FieldSheet {

  /** Number of hourly rows that keep the sheet on one page. */
  private static final int ROWS = 18;

  private final DayAnswer answer;
  private final DayQuestion asked;
  private final Html html = new Html();

  FieldSheet(DayAnswer answer) {
    this.answer = answer;
    asked = answer.asked();
  }

  void write(Writer to) throws IOException {
    List<Moment> moments = answer.moments();
    String title = asked.profile().name() + " on " + asked.date();
    html.element("h1", title + " - field sheet");
    html.element("p class=\"over\"", asked.words());
    html.element("p class=\"least\"", OutlookText.headline(moments, asked));
    html.element(
        "p",
        SunHours.words(asked)
            + " "
            + String.join(" ", OutlookText.bestSentences(moments, asked.outlook())));
    html.element(
        "p class=\"safety\"",
        "Advisory only, not certified. A clear sky is the upper limit: clouds and haze only reduce"
            + " the light. Local rules come first; the pilot decides whether to fly.");
    html.raw("<div class=\"two\"><div>");
    hours(moments);
    html.raw("</div><div>");
    windows(moments);
    thresholds();
    html.raw("</div></div><div class=\"three\">");
    list("Bench", bench());
    list("Tether", tether());
    list("Free flight", freeFlight());
    html.raw("</div>");
    fill();
    html.element("h2", "Basis of this forecast");
    // the limits, its second paragraph, are at the top of this sheet
    html.element("p class=\"over\"", OutlookText.basis(asked).get(0));
    Page.writeSheet(to, title + " - field sheet", html);
  }

  private void hours(List<Moment> moments) {
    html.element("h2", "By the hour, clear sky");
    List<List<String>> rows = new ArrayList<>();
    long apart = Math.max(1, (hoursOf(moments) + ROWS - 1) / ROWS);
    Moment last = null;
    for (Moment m : moments) {
      boolean far =
          last == null || Duration.between(last.time(), m.time()).toMinutes() >= 60 * apart;
      if (far && m.time().getMinute() < asked.step().toMinutes()) {
        last = m;
        rows.add(
            List.of(
                Html.safe(OutlookText.CLOCK.format(m.time())),
                Html.cell("%.0f", 1000 * m.suns()),
                Html.cell("%.0f", m.lowWatts()),
                Html.cell("%.0f", m.demandWatts()),
                Html.cell("%+.0f", m.lowPercent()),
                m.ceiling() > 0 ? Html.cell("%.2f", m.ceiling()) : "-"));
      }
    }
    html.table(
        "By the hour",
        List.of("time", ">W/m2", ">at least W", ">hover W", ">margin %", ">ceiling"),
        rows);
    html.element(
        "p class=\"over\"",
        "At least: lower bound (95 %) under a clear sky; the margin is based on it. Ceiling: the"
            + " steady throttle that draws all available power; stay below it.");
  }

  private static long hoursOf(List<Moment> moments) {
    return moments.isEmpty()
        ? 1
        : Duration.between(moments.get(0).time(), moments.get(moments.size() - 1).time()).toHours()
            + 1;
  }

  private void windows(List<Moment> moments) {
    html.element("h2", "Windows, clear sky");
    List<List<String>> rows = new ArrayList<>();
    OutlookText.windows(moments, asked.profile().rules(), asked.step())
        .forEach((name, span) -> rows.add(List.of(Html.safe(name), Html.safe(span))));
    html.table("Windows", List.of("lower bound", "longest span"), rows);
  }

  private void thresholds() {
    html.element("h2", "Thresholds in flight");
    AlertRules rules = asked.profile().rules();
    List<List<String>> rows = new ArrayList<>();
    rows.add(rule(rules, AlertLevel.ADVISORY, "plan the landing"));
    rows.add(rule(rules, AlertLevel.CAUTION, "stop climbing, head for the landing place"));
    rows.add(rule(rules, AlertLevel.WARNING, "LAND NOW"));
    rows.add(
        List.of(
            "past the knee",
            "power falls as the throttle opens",
            Html.safe("CLOSE the throttle to the ceiling; opening it drops the craft")));
    html.table("Thresholds", List.of("level", "margin below", "action"), rows);
  }

  private static List<String> rule(AlertRules rules, AlertLevel level, String action) {
    LevelRule rule = rules.of(level);
    String time =
        rule.timeSeconds() > 0
            ? String.format(Locale.ROOT, ", or zero within %.3g s", rule.timeSeconds())
            : "";
    return List.of(
        Html.safe(level.toString()),
        Html.cell("%.3g %%%s", rule.marginPercent(), time),
        Html.safe(action));
  }

  private void list(String title, List<String> items) {
    html.raw("<div>");
    html.element("h2", title);
    html.raw("<ul>");
    items.forEach(item -> html.element("li", item));
    html.raw("</ul></div>");
  }

  private List<String> bench() {
    List<String> items = new ArrayList<>();
    SolarArray array = asked.profile().settings().newArray();
    array.set(1, 0);
    double volts = array.openCircuitVolts();
    items.add("Propellers off.");
    items.add("Array covered: in light it cannot be switched off.");
    items.add(
        String.format(
            Locale.ROOT, "Up to %.0f V with cold cells in full sun%s", volts, shock(volts)));
    items.add("A DC arc does not extinguish itself: never unplug under load.");
    items.add("Cells intact and clean; wear gloves and glasses.");
    items.add("Connectors, wires and screws tight; nothing chafes.");
    items.add("Logged volts and amperes agree with a meter.");
    items.add("Motors turn the right way; the log is written.");
    return items;
  }

  private static String shock(double volts) {
    if (volts >= TouchVoltage.LICENSED) {
      return ": DANGER, lethal voltage. Licensed electricians only.";
    }
    return volts >= TouchVoltage.SHOCK ? ": SHOCK HAZARD. Touch no bare conductor." : ".";
  }

  private List<String> tether() {
    return List.of(
        "Nobody within 10 m, the tether's reach or the propellers' plane; glasses on.",
        "Tether anchored below the centre of mass, no slack near the propellers.",
        "Slow throttle ramp, craft held down: replay checks for even light.",
        "Hover a minute below 1 m: throttle, watts and margin as above?",
        "Shade cells with a long stick: margin falls, alerts come.",
        "Pilot can hear or see alerts; throttle ceiling set.",
        "Cells as warm as expected; motors and wires can be touched.");
  }

  private List<String> freeFlight() {
    return List.of(
        "Tether test passed today with this mass and array.",
        "Local rules, permission, insurance, air traffic.",
        "No cloud will drift in during the flight; wind within limits.",
        "Landing place and the way to it clear; nobody below the craft.",
        "Observer watches the sky and calls clouds.",
        "Stay low: without margin, lift is lost within a second.",
        "At CAUTION fly to the landing place; at WARNING land at once.",
        "After landing: cover the array before handling the craft.");
  }

  private void fill() {
    html.element("h2", "Measured on site");
    html.raw("<div class=\"fill\">");
    for (String label :
        List.of(
            "light, W/m2",
            "air, \u00b0C",
            "wind, m/s",
            "mass, kg",
            "hover throttle",
            "hover, W",
            "pilot",
            "time")) {
      html.element("p", label);
    }
    html.raw("</div>");
  }
}
