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

/** One page of A4 for the field: when, with what reserve, at which throttle to stop; checklists. */
final class FieldSheet {

  /** So many rows of hours leave the sheet one page. */
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
        "Advisory only, not certified. Clear sky is the upper limit: clouds and haze only take away."
            + " Local rules come first; the decision to fly is the flyer's.");
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
    html.element("h2", "What this rests on");
    OutlookText.restsOn(asked).forEach(line -> html.element("p class=\"over\"", line));
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
        "At least: 95 % under a clear sky. Margin: of hover, from that. Ceiling: the steady throttle that"
            + " takes all power; stay under it.");
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
    html.table("Thresholds", List.of("level", "margin under", "do"), rows);
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
        String.format(Locale.ROOT, "Up to %.0f V open circuit in cold sun%s", volts, shock(volts)));
    items.add("A DC arc does not go out: never unplug under load.");
    items.add("Cells whole and clean; their edges cut: gloves, glasses.");
    items.add("Plugs, wires and screws tight; nothing chafes.");
    items.add("Volts and amperes of the log against a meter.");
    items.add("Motors turn the right way; the log is written.");
    return items;
  }

  private static String shock(double volts) {
    if (volts >= TouchVoltage.LICENSED) {
      return ": DANGER, it kills. Licensed electricians only.";
    }
    return volts >= TouchVoltage.SHOCK ? ": ELECTRIC SHOCK. Touch nothing bare." : ".";
  }

  private List<String> tether() {
    return List.of(
        "Nobody within the tether's reach and 10 m, nor in the propellers' plane; glasses on.",
        "Tether to the ground under the centre of mass, no slack into propellers.",
        "Slow throttle ramp in full light, held down: replay says whether the light is even.",
        "Hover a minute under 1 m: throttle, watts and margin as above?",
        "Shade a part by hand on a stick: margin falls, alerts come.",
        "Alerts heard or seen by the flyer; throttle ceiling set.",
        "Cell heat as expected; motors and wires not too hot to touch.");
  }

  private List<String> freeFlight() {
    return List.of(
        "Tether test passed today, with this mass and array.",
        "Local rules, permission, insurance, air traffic.",
        "Sky: nothing drifts in for the length of the flight; wind within limits.",
        "Landing place free all the way, and under the craft; nobody beneath.",
        "Observer watches the sky and calls clouds.",
        "Stay low: when the margin is gone, lift goes within a second.",
        "At CAUTION fly to the landing place; at WARNING land at once.",
        "After landing: cover the array, then go near.");
  }

  private void fill() {
    html.element("h2", "Measured on the spot");
    html.raw("<div class=\"fill\">");
    for (String label :
        List.of(
            "light, W/m2",
            "air, \u00b0C",
            "wind, m/s",
            "mass, kg",
            "hover throttle",
            "hover, W",
            "flyer",
            "time")) {
      html.element("p", label);
    }
    html.raw("</div>");
  }
}
