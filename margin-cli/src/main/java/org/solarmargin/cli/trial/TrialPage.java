package org.solarmargin.cli.trial;

import java.io.IOException;
import java.io.Writer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.cli.report.ChartSpec;
import org.solarmargin.cli.report.Html;
import org.solarmargin.cli.report.Page;
import org.solarmargin.sim.trial.Outcome;
import org.solarmargin.sim.trial.TrialSummary;

/** The page of a trial; scenarios of which no flight was flown are left out. */
final class TrialPage {

  private static final List<String> LOADS =
      List.of("under 50 %", "50 to 70 %", "70 to 85 %", "above 85 %");

  private final String craft;
  private final Partial partial;
  private final long seed;
  private final String loggers;
  private final List<String> titles;
  private final List<Outcome> outcomes;
  private final Html html = new Html();

  TrialPage(
      String craft,
      Partial partial,
      long seed,
      String loggers,
      List<String> titles,
      List<Outcome> outcomes) {
    this.craft = craft;
    this.partial = partial;
    this.seed = seed;
    this.loggers = loggers;
    this.titles = titles;
    this.outcomes = outcomes;
  }

  void write(Writer to) throws IOException {
    TrialSummary all = new TrialSummary(outcomes.stream().filter(o -> !o.limiter()).toList());
    html.element(
        "p class=\"over\"", "craft " + craft + ", simulated flights, seed " + seed + loggers);
    if (partial.stopped()) {
      html.element("p", partial.line());
    }
    html.raw(
        "<h1>"
            + Html.cell(
                "%d of %d flights lost, %d of them unwarned",
                all.losses(), all.flights(), all.missed())
            + "</h1>");
    html.raw(
        "<p class=\"least\">"
            + Html.cell(
                "%s nuisance warnings per hour in %.1f hours; the lower bound holds in %s %%",
                TrialText.figure("%.2f", all.nuisancesPerHour()),
                all.hours(),
                TrialText.figure("%.1f", 100 * all.coverage()))
            + "</p>");
    Page.safetyOf(html);
    html.chart(
        "leads",
        "Lead time of WARNING before a loss",
        List.of(Html.key("share of losses with at least this lead time", "power", "line")),
        "Share of losses over the time that a WARNING had been active before them");
    html.raw("<p class=\"over\" id=\"leads-at\">&nbsp;</p>");
    losses();
    coverage();
    estimate();
    Page.write(to, "Trial of " + craft, html, ChartSpec.data(List.of(leads())));
  }

  private ChartSpec leads() {
    ChartSpec chart = new ChartSpec("leads", 260, "lead time, s", "losses, %", true);
    int place = chart.curve("losses with at least this lead time", "--power");
    double[] leads =
        outcomes.stream()
            .filter(o -> o.lost() && !o.limiter())
            .mapToDouble(o -> o.missed() ? 0 : o.alerts().warnedSeconds())
            .sorted()
            .toArray();
    chart.put(place, 0, 100);
    for (int i = 0; i < leads.length; i++) {
      chart.put(place, leads[i], 100.0 * (leads.length - i) / leads.length);
    }
    if (leads.length > 0) {
      chart.xRange(0, Math.max(leads[leads.length - 1], 1) * 1.02);
    }
    return chart;
  }

  private TrialSummary of(int scenario, boolean limiter) {
    return new TrialSummary(TrialText.of(outcomes, scenario, limiter));
  }

  private TrialSummary of(int scenario) {
    return new TrialSummary(outcomes.stream().filter(o -> o.scenario() == scenario).toList());
  }

  private static String figure(String format, double value) {
    return Html.safe(TrialText.figure(format, value));
  }

  private void losses() {
    html.element("h2", "Losses, without and with the throttle held below the ceiling");
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < titles.size(); i++) {
      TrialSummary off = of(i, false);
      TrialSummary on = of(i, true);
      if (off.flights() + on.flights() == 0) {
        continue;
      }
      rows.add(
          Arrays.asList(
              Html.safe(titles.get(i)),
              share(off),
              share(on),
              Html.cell("%d", off.missed() + on.missed()),
              Double.isNaN(off.lead(0.5))
                  ? "-"
                  : Html.cell("%.1f / %.1f / %.1f", off.lead(0.05), off.lead(0.5), off.lead(0.95)),
              off.flights() > 0 ? Html.cell("%.2f", off.nuisancesPerHour()) : "-"));
    }
    html.table(
        "Losses by scenario",
        List.of(
            "scenario", ">lost", ">lost, held", ">unwarned", ">lead s, 5/50/95 %", ">nuisances/h"),
        rows);
  }

  private static String share(TrialSummary s) {
    return s.flights() == 0 ? "-" : Html.cell("%d of %d", s.losses(), s.flights());
  }

  private void coverage() {
    html.element("h2", "Lower bound holds, percent, by load");
    List<String> heads = new ArrayList<>(List.of("scenario"));
    LOADS.forEach(load -> heads.add(">" + load));
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < titles.size(); i++) {
      TrialSummary s = of(i);
      if (s.flights() == 0) {
        continue;
      }
      List<String> row = new ArrayList<>(List.of(Html.safe(titles.get(i))));
      for (int load = 0; load < LOADS.size(); load++) {
        double held = 100 * s.coverage(load);
        String text = figure("%.2f", held);
        // coverage below 95 % is marked by a word, not by colour alone
        row.add(held < 95 ? "<b>" + text + " low</b>" : text);
      }
      rows.add(row);
    }
    html.table("Coverage of the lower bound", heads, rows);
  }

  private void estimate() {
    html.element("h2", "Estimate of the available power, percent");
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < titles.size(); i++) {
      TrialSummary s = of(i);
      if (s.flights() == 0) {
        continue;
      }
      rows.add(
          List.of(
              Html.safe(titles.get(i)),
              figure("%.2f", s.rmsPercent()),
              figure("%+.2f", s.biasPercent()),
              figure("%.1f", s.errorQuantilePercent(0.95)),
              figure("%.2f", s.optimisticPercent()),
              figure("%.2f", s.gapPercent()),
              figure("%.2f", s.ceilingRmsPercent())));
    }
    html.table(
        "Estimate by scenario",
        List.of(
            "scenario",
            ">rms",
            ">bias",
            ">95 % within",
            ">optimistic by 5 %",
            ">gap of the bound",
            ">ceiling rms"),
        rows);
  }
}
