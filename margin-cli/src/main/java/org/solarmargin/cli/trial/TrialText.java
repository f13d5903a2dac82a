package org.solarmargin.cli.trial;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleUnaryOperator;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.trial.BestVoltage;
import org.solarmargin.sim.trial.Outcome;
import org.solarmargin.sim.trial.TrialSummary;

/** The tables of a trial, 80 columns; scenarios of which no flight was flown are left out. */
final class TrialText {

  private final Lines out;

  TrialText(PrintWriter out) {
    this.out = new Lines(out);
  }

  void print(List<String> titles, List<Outcome> outcomes) {
    out.line(
        "%-22s %-3s %6s %6s %6s %17s %9s",
        "scenario", "lim", "flown", "lost", "unwarn", "lead s 5/50/95 %", "nuis./h");
    for (int i = 0; i < titles.size(); i++) {
      for (boolean limiter : new boolean[] {false, true}) {
        TrialSummary s = new TrialSummary(of(outcomes, i, limiter));
        if (s.flights() > 0) {
          out.line(
              "%-22s %-3s %6d %6d %6d %17s %9.2f",
              cut(titles.get(i)),
              limiter ? "on" : "off",
              s.flights(),
              s.losses(),
              s.missed(),
              leads(s::lead),
              s.nuisancesPerHour());
        }
      }
    }
    out.blank();
    out.line(
        "%-22s %-3s %6s %6s %5s %6s %6s %5s %5s %5s",
        "estimate, percent", "lim", "rms", "bias", "p95", "over5", "cover", "gap", "near", "ceil");
    for (boolean limiter : new boolean[] {false, true}) {
      for (int i = 0; i < titles.size(); i++) {
        estimate(cut(titles.get(i)), limiter, of(outcomes, i, limiter));
      }
      estimate("all", limiter, outcomes.stream().filter(o -> o.limiter() == limiter).toList());
    }
    out.blank();
    coverageByLoad(titles, outcomes);
    out.line("rms, bias: of available power; p95: error that 95 %% of samples stay within; over5:");
    out.line("share more than 5 %% optimistic; cover: share whose lower bound held; gap: of the");
    out.line("bound; near: rms below 30 %% margin; ceil: rms of the throttle ceiling. Evaluated");
    out.line("from 8 s in the air until a loss.");
  }

  /** Comparison with current practice: the best fixed voltage alarm on the same flights. */
  void printVoltage(CraftProfile profile, List<String> titles, List<Outcome> outcomes) {
    List<Outcome> off = outcomes.stream().filter(o -> !o.limiter()).toList();
    if (off.stream().noneMatch(Outcome::lost)) {
      return;
    }
    out.blank();
    out.line(
        "%-22s %5s %6s %15s %6s | %6s %14s",
        "best fixed voltage", "V", "unwarn", "lead s 5/50/95%", "nu./h", "unwarn", "WARNING lead");
    for (int i = 0; i < titles.size(); i++) {
      voltage(cut(titles.get(i)), profile, of(outcomes, i, false));
    }
    if (titles.size() > 1) {
      voltage("one for all", profile, off);
    }
    out.text("Chosen with hindsight on these flights, with the delays of WARNING: among");
    out.text("thresholds with no more nuisance alerts than WARNING, the one that misses the");
    out.text("fewest losses, then the one with the longest median lead.");
  }

  private void voltage(String name, CraftProfile profile, List<Outcome> flights) {
    long lost = flights.stream().filter(Outcome::lost).count();
    if (lost == 0) {
      return;
    }
    BestVoltage best = new BestVoltage(profile, flights);
    TrialSummary warning = new TrialSummary(flights);
    out.line(
        "%-22s %5.1f %6d %15s %6.2f | %6d %14s",
        name,
        best.volts(),
        best.missed(),
        leads(best::lead),
        best.nuisancesPerHour(),
        warning.missed(),
        leads(warning::lead));
  }

  private void estimate(String name, boolean limiter, List<Outcome> outcomes) {
    if (outcomes.isEmpty()) {
      return;
    }
    TrialSummary s = new TrialSummary(outcomes);
    out.line(
        "%-22s %-3s %6s %6s %5s %6s %6s %5s %5s %5s",
        name,
        limiter ? "on" : "off",
        figure("%.2f", s.rmsPercent()),
        figure("%+.2f", s.biasPercent()),
        figure("%.1f", s.errorQuantilePercent(0.95)),
        figure("%.2f", s.optimisticPercent()),
        figure("%.2f", 100 * s.coverage()),
        figure("%.2f", s.gapPercent()),
        figure("%.2f", s.nearRmsPercent()),
        figure("%.2f", s.ceilingRmsPercent()));
  }

  private void coverageByLoad(List<String> titles, List<Outcome> outcomes) {
    out.line(
        "%-22s %9s %9s %9s %9s %11s",
        "bound holds, percent", "load <50%", "to 70%", "to 85%", "above", "innovation");
    for (int i = 0; i < titles.size(); i++) {
      int scenario = i;
      coverage(
          cut(titles.get(i)), outcomes.stream().filter(o -> o.scenario() == scenario).toList());
    }
    coverage("all", outcomes);
    out.blank();
    List<Long> seen = new TrialSummary(outcomes).kneeDetections();
    out.line(
        "Samples detected past the knee: %d by the model alone, %d by power that falls",
        seen.get(0), seen.get(1));
    out.line("as the throttle opens alone, %d by both. Either one warns.", seen.get(2));
    out.blank();
  }

  private void coverage(String name, List<Outcome> outcomes) {
    if (outcomes.isEmpty()) {
      return;
    }
    TrialSummary s = new TrialSummary(outcomes);
    out.line(
        "%-22s %9s %9s %9s %9s %11s",
        name,
        figure("%.2f", 100 * s.coverage(0)),
        figure("%.2f", 100 * s.coverage(1)),
        figure("%.2f", 100 * s.coverage(2)),
        figure("%.2f", 100 * s.coverage(3)),
        figure("%.2f", s.meanInnovation()));
  }

  void printSaved(List<String> titles, List<Outcome> outcomes) {
    out.blank();
    out.line("Effect of holding the throttle below the ceiling, on the same flights:");
    for (int i = 0; i < titles.size(); i++) {
      List<Outcome> off = of(outcomes, i, false);
      List<Outcome> on = of(outcomes, i, true);
      int pairs = Math.min(off.size(), on.size());
      if (pairs == 0) {
        continue;
      }
      int saved = 0;
      int broken = 0;
      for (int j = 0; j < pairs; j++) {
        saved += off.get(j).lost() && !on.get(j).lost() ? 1 : 0;
        broken += !off.get(j).lost() && on.get(j).lost() ? 1 : 0;
      }
      out.line(
          "%-22s %d of %d losses became controlled descents, %d new losses;",
          cut(titles.get(i)), saved, new TrialSummary(off).losses(), broken);
      out.line(
          "%-22s median height lost %s m without, %s m with",
          "",
          figure("%.1f", new TrialSummary(off).heightLost()),
          figure("%.1f", new TrialSummary(on).heightLost()));
    }
  }

  /** A figure as text; a dash where no sample gives it. */
  static String figure(String format, double value) {
    return Double.isNaN(value) ? "-" : String.format(Locale.ROOT, format, value);
  }

  private static String leads(DoubleUnaryOperator lead) {
    return Double.isNaN(lead.applyAsDouble(0.5))
        ? "-"
        : String.format(
            Locale.ROOT,
            "%.1f/%.1f/%.1f",
            lead.applyAsDouble(0.05),
            lead.applyAsDouble(0.5),
            lead.applyAsDouble(0.95));
  }

  static List<Outcome> of(List<Outcome> outcomes, int scenario, boolean limiter) {
    return outcomes.stream()
        .filter(o -> o.scenario() == scenario && o.limiter() == limiter)
        .toList();
  }

  private static String cut(String title) {
    return title.length() <= 22 ? title : title.substring(0, 21) + "~";
  }
}
