package org.solarmargin.cli.tune;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.solarmargin.cli.flightevent.LossMarks;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.cli.report.ChartSpec;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.cli.tune.rule.ConfidenceLimits;
import org.solarmargin.cli.tune.rule.Evidence;
import org.solarmargin.cli.tune.rule.FlightTally;
import org.solarmargin.cli.tune.rule.LevelAim;
import org.solarmargin.cli.tune.rule.Recommendation;
import org.solarmargin.cli.tune.rule.Score;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.core.alert.LevelRule;

/** The page of a tuning. */
final class TunePage {

  private static final int SHOWN = 400;

  private final Tuner tuner;
  private final String craft;
  private final Recommendation recommendation;
  private final List<Path> logs;
  private final Partial partial;
  private final Html html = new Html();
  private final List<ChartSpec> charts = new ArrayList<>();

  TunePage(
      Tuner tuner, Recommendation recommendation, String craft, List<Path> logs, Partial partial) {
    this.logs = List.copyOf(logs);
    this.tuner = tuner;
    this.craft = craft;
    this.recommendation = recommendation;
    this.partial = partial;
  }

  void write(Writer to) throws IOException {
    Recommendation.Finding warning = recommendation.findings().get(LevelAim.WARNING);
    Score now = warning.evidence().score(Evidence.PRESENT);
    Score then = warning.chosenScore();
    long simulated = tuner.flights().stream().filter(FlightTally::simulated).count();
    html.element(
        "p class=\"over\"",
        String.format(
            Locale.ROOT,
            "craft %s: %d flights (%d simulated), %.2f h, %d rules tried",
            craft,
            tuner.flights().size(),
            simulated,
            tuner.hours(),
            tuner.ruleCount()));
    if (partial.stopped()) {
      html.element("p", partial.line());
    }
    html.raw(
        "<h1>"
            + Html.cell(
                "Present WARNING: %d of %d events missed, lead time %.1f s, %.2f nuisances per"
                    + " hour",
                now.missed(), now.events(), now.leadSeconds(), now.nuisancesPerHour())
            + "</h1><p class=\"least\">"
            + Html.cell(
                "Recommended: %d missed, %.1f s, %.2f per hour",
                then.missed(), then.leadSeconds(), then.nuisancesPerHour())
            + "</p>");
    if (simulated == 0 && tuner.fewEvents()) {
      html.element("p", "Few events were logged, so the recommendation has little support.");
    }
    if (simulated > 0) {
      html.element(
          "p",
          "Few events were logged, so simulated flights of this craft were added: model prediction"
              + " only.");
    }
    Page.safetyOf(html);
    for (LevelAim aim : LevelAim.values()) {
      level(recommendation.findings().get(aim));
    }
    html.element("h2", "The recommended rules");
    for (LevelAim aim : LevelAim.values()) {
      html.element("p", recommendation.rules().words(aim.level()));
    }
    events(warning);
    otherMarks(warning);
    nuisances(warning);
    Page.write(to, "Thresholds of " + craft, html, ChartSpec.data(charts));
  }

  private void level(Recommendation.Finding finding) {
    Evidence evidence = finding.evidence();
    LevelAim aim = evidence.aim();
    List<Integer> frontier = finding.frontier();
    String id = "frontier-" + aim.name().toLowerCase(Locale.ROOT);
    html.element("h2", aim.name());
    html.chart(
        id,
        "Frontier: lead time over nuisances",
        List.of(
            Html.key("frontier", "power", "spot"),
            Html.key("present", "load", "ring"),
            Html.key("recommended", "second", "ring")),
        frontier.size()
            + " rules that no other rule dominates, the present rule and the recommended one");
    html.raw("<p class=\"over\" id=\"" + id + "-at\">&nbsp;</p>");
    ChartSpec chart = new ChartSpec(id, 240, "nuisances per hour", "median lead time, s", true);
    int line = chart.dots("frontier", "--power", 7, true);
    int present = chart.dots("present", "--load", 13, false);
    int better = chart.dots("recommended", "--second", 17, false);
    List<List<String>> rows = new ArrayList<>();
    for (int r : frontier) {
      Score s = evidence.score(r);
      chart.put(line, s.nuisancesPerHour(), s.leadSeconds());
      rows.add(row("frontier", evidence, r));
    }
    put(chart, present, evidence.score(Evidence.PRESENT));
    put(chart, better, finding.chosenScore());
    charts.add(chart);
    rows.add(row("<b>present</b>", evidence, Evidence.PRESENT));
    rows.add(row("<b>recommended</b>", evidence, finding.chosen()));
    html.table(
        aim + " rules",
        List.of(
            "rule",
            ">missed",
            ">lead s",
            ">nuis./h",
            ">late",
            ">margin %",
            ">time s",
            ">on s",
            ">off s",
            ">hyst. %"),
        rows);
    if (!finding.reason().isEmpty()) {
      html.element("p", finding.reason());
    }
    Score validated = finding.validated();
    if (validated != null) {
      html.element(
          "p",
          String.format(
              Locale.ROOT,
              "Cross-validation on flights left out: %d of %d missed, lead time %.1f s, %.2f"
                  + " nuisances per hour; with 95 %% confidence at most %.0f %% missed and %.2g per"
                  + " hour.",
              validated.missed(),
              validated.events(),
              validated.leadSeconds(),
              validated.nuisancesPerHour(),
              100 * ConfidenceLimits.shareAtMost(validated.missed(), validated.events()),
              ConfidenceLimits.rateAtMost(validated.nuisances(), validated.hours())));
    }
  }

  private static void put(ChartSpec chart, int place, Score s) {
    chart.put(place, s.nuisancesPerHour(), s.leadSeconds());
  }

  private static List<String> row(String name, Evidence evidence, int rule) {
    LevelRule r = evidence.rules().get(rule);
    Score s = evidence.score(rule);
    return List.of(
        name,
        Html.cell("%d", s.missed()),
        Html.cell("%.1f", s.leadSeconds()),
        Html.cell("%.2f", s.nuisancesPerHour()),
        Html.cell("%d", s.late()),
        Html.cell("%.1f", r.marginPercent()),
        Html.cell("%.1f", r.timeSeconds()),
        Html.cell("%.2f", r.onDelaySeconds()),
        Html.cell("%.1f", r.offDelaySeconds()),
        Html.cell("%.1f", r.hysteresisPercent()));
  }

  private void events(Recommendation.Finding finding) {
    html.element("h2", "Events and the WARNING before each");
    int chosen = finding.chosen();
    List<List<String>> rows = new ArrayList<>();
    for (FlightTally flight : finding.evidence().flights()) {
      for (int e = 0; e < flight.events().size() && rows.size() < SHOWN; e++) {
        var event = flight.events().get(e);
        rows.add(
            List.of(
                Html.safe(flight.name()),
                Html.safe(Clock.minutes(event.seconds() - flight.origin())),
                Html.safe(event.evidence()),
                lead(flight.lead(Evidence.PRESENT, e)),
                lead(flight.lead(chosen, e))));
      }
    }
    if (rows.isEmpty()) {
      html.element("p", "None.");
      return;
    }
    html.table(
        "Events",
        List.of("flight", ">min:s", "evidence", ">lead s, present", ">lead s, recommended"),
        rows);
  }

  /** The pilot's marks that do not denote a loss; they are only listed. */
  private void otherMarks(Recommendation.Finding finding) {
    List<List<String>> rows = new ArrayList<>();
    for (FlightTally flight : finding.evidence().flights()) {
      for (var mark : flight.otherMarks()) {
        if (rows.size() < SHOWN) {
          rows.add(
              List.of(
                  Html.safe(flight.name()),
                  Html.safe(Clock.minutes(mark.seconds() - flight.origin())),
                  Html.safe(mark.evidence())));
        }
      }
    }
    if (!rows.isEmpty()) {
      html.element("h2", "Other marks");
      html.element(
          "p",
          "These do not count as losses; the mark of a loss begins with one of "
              + LossMarks.WORDS
              + ".");
      html.table("Other marks", List.of("flight", ">min:s", "mark"), rows);
    }
  }

  private static String lead(float seconds) {
    return Float.isNaN(seconds) ? "<b>missed</b>" : Html.cell("%.1f", seconds);
  }

  private void nuisances(Recommendation.Finding finding) {
    html.element("h2", "Nuisance warnings");
    int chosen = finding.chosen();
    List<List<String>> rows = new ArrayList<>();
    for (FlightTally flight : finding.evidence().flights()) {
      String name = Html.safe(flight.name());
      String linked =
          flight.simulated()
              ? name
              : "<a href=\"" + Html.safe(link(flight.name())) + "\">" + name + "</a>";
      Set<Double> now = new TreeSet<>(flight.nuisanceTimes(Evidence.PRESENT));
      Set<Double> then = new TreeSet<>(flight.nuisanceTimes(chosen));
      Set<Double> either = new TreeSet<>(now);
      either.addAll(then);
      for (double time : either) {
        if (rows.size() < SHOWN) {
          rows.add(
              List.of(
                  linked,
                  Html.safe(Clock.minutes(time)),
                  now.contains(time) ? "yes" : "-",
                  then.contains(time) ? "yes" : "-"));
        }
      }
    }
    if (rows.isEmpty()) {
      html.element("p", "None with either the present or the recommended rules.");
      return;
    }
    html.element("p", "To inspect one, run margin replay LOG --report, which shows each alert.");
    html.table(
        "Nuisances", List.of("flight", ">min:s", "present rules", "recommended rules"), rows);
  }

  /** The location of the log on this machine, as a link. */
  private String link(String name) {
    for (Path log : logs) {
      if (log.getFileName().toString().equals(name)) {
        Path to = log.toAbsolutePath().normalize();
        return to.toUri().toString();
      }
    }
    return "#";
  }
}
