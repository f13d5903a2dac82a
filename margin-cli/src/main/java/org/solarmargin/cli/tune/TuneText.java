package org.solarmargin.cli.tune;

import java.io.PrintWriter;
import java.util.List;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.tune.rule.ConfidenceLimits;
import org.solarmargin.cli.tune.rule.Evidence;
import org.solarmargin.cli.tune.rule.FlightTally;
import org.solarmargin.cli.tune.rule.LevelAim;
import org.solarmargin.cli.tune.rule.Recommendation;
import org.solarmargin.cli.tune.rule.Score;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.cli.tune.rule.VoltageEvidence;
import org.solarmargin.core.alert.LevelRule;

/** The text output of tune, 80 columns. */
final class TuneText {

  /** Manageable number of alarms in 10 minutes, see {@link #alarmRate}. */
  private static final double MANAGEABLE = 1;

  private static final int ROWS = 14;
  private static final int EVENTS = 40;
  private static final int MARKS = 10;

  private final Lines out;
  private final Tuner tuner;
  private final Recommendation recommendation;

  TuneText(PrintWriter out, Tuner tuner, Recommendation recommendation) {
    this.recommendation = recommendation;
    this.out = new Lines(out);
    this.tuner = tuner;
  }

  void print(String craft) {
    events();
    for (LevelAim aim : LevelAim.values()) {
      level(recommendation.findings().get(aim));
    }
    words(craft);
    alarmRate();
    out.text("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
  }

  private void events() {
    List<FlightTally> real = tuner.flights().stream().filter(f -> !f.simulated()).toList();
    int simulated = tuner.flights().size() - real.size();
    out.line(
        "%d logged flights, %.2f h in the air; events: %d; rules tried: %d",
        real.size(),
        real.stream().mapToDouble(FlightTally::hours).sum(),
        tuner.realEvents(),
        tuner.ruleCount());
    if (simulated == 0 && tuner.fewEvents()) {
      out.line(
          "FEW EVENTS: fewer than %d were logged; no simulated flights were added.",
          Tuner.FEW_EVENTS);
    }
    if (simulated > 0) {
      out.line(
          "FEW EVENTS: fewer than %d were logged, so %d simulated flights of this craft",
          Tuner.FEW_EVENTS, simulated);
      out.line(
          "(%.2f h, %d events) were added. Model prediction only: fly, log, and tune again.",
          tuner.hours() - real.stream().mapToDouble(FlightTally::hours).sum(),
          tuner.flights().stream().mapToInt(f -> f.events().size()).sum() - tuner.realEvents());
    }
    out.rule();
    notes(real);
    int shown = 0;
    for (FlightTally flight : real) {
      for (FlightEvent event : flight.events()) {
        if (shown++ < EVENTS) {
          out.line(
              "event  %-28s %10.2f s (%s)  %s",
              flight.name(),
              event.seconds(),
              Clock.minutes(event.seconds() - flight.origin()),
              event.evidence());
        }
      }
    }
    if (shown > EVENTS) {
      out.line("event  and %d more", shown - EVENTS);
    }
    marks(real);
    if (shown > 0) {
      out.line("Remove one with --strike LOG@TIME, add one with --event LOG@TIME.");
    }
    out.blank();
  }

  /** What was recognised in the logs, and their faults. */
  private void notes(List<FlightTally> real) {
    int shown = 0;
    for (FlightTally flight : real) {
      for (String note : flight.notes()) {
        if (shown++ < MARKS) {
          out.line("log    %s: %s", flight.name(), note);
        }
      }
    }
    if (shown > MARKS) {
      out.line("log    and %d more; see margin replay", shown - MARKS);
    }
  }

  /** The pilot's marks that do not denote a loss. */
  private void marks(List<FlightTally> real) {
    int shown = 0;
    for (FlightTally flight : real) {
      for (FlightEvent mark : flight.otherMarks()) {
        if (shown++ < MARKS) {
          out.line(
              "mark   %-28s %10.2f s (%s)  %s",
              flight.name(),
              mark.seconds(),
              Clock.minutes(mark.seconds() - flight.origin()),
              mark.evidence());
        }
      }
    }
    if (shown > 0) {
      out.line(
          "These marks do not count as losses; one that does begins with loss, lost, sank, fell,");
      out.line("crash, ... (see margin tune --help).");
    }
  }

  private void level(Recommendation.Finding finding) {
    Evidence evidence = finding.evidence();
    out.line(
        "%s: required lead time %.0f s, at most %.2g nuisances per hour",
        evidence.aim(), evidence.requiredLead(), evidence.nuisanceLimit());
    out.line(
        "%-13s %6s %5s %5s %5s %5s | %6s %5s %7s %7s",
        "", "margin", "time", "on", "off", "hyst", "missed", "late", "lead s", "nuis/h");
    List<Integer> frontier = finding.frontier();
    int every = Math.max(1, (frontier.size() + ROWS - 1) / ROWS);
    for (int k = 0; k < frontier.size(); k += every) {
      row("frontier", evidence, frontier.get(k));
    }
    row("present", evidence, Evidence.PRESENT);
    row("RECOMMENDED", evidence, finding.chosen());
    Score validated = finding.validated();
    if (validated != null) {
      out.line(
          "%-13s %6s %5s %5s %5s %5s | %6d %5d %7.1f %7.2f",
          "on left-out",
          "",
          "",
          "",
          "",
          "",
          validated.missed(),
          validated.late(),
          validated.leadSeconds(),
          validated.nuisancesPerHour());
      out.line(
          "With 95 %% confidence at most %.0f %% of events missed, %.2g nuisances per hour.",
          100 * ConfidenceLimits.shareAtMost(validated.missed(), validated.events()),
          ConfidenceLimits.rateAtMost(validated.nuisances(), validated.hours()));
    } else {
      out.line("With only one flight the choice cannot be cross-validated.");
    }
    if (evidence.aim() == LevelAim.WARNING) {
      voltage(finding);
    }
    alternatives(finding);
    out.blank();
  }

  /** The next rule on the frontier: what accepting more nuisances would gain. */
  private void alternatives(Recommendation.Finding finding) {
    Evidence evidence = finding.evidence();
    Score here = finding.chosenScore();
    if (!finding.reason().isEmpty()) {
      out.text(finding.reason());
    }
    order(finding);
    for (int r : finding.frontier()) {
      Score other = evidence.score(r);
      boolean gains =
          other.missed() < here.missed() || other.medianLead() > here.medianLead() + 0.5;
      if (other.nuisances() > here.nuisances() && gains) {
        out.line(
            "Accepting %.2f per hour would give %d missed and a lead time of %.1f s (margin %.0f"
                + " %%).",
            other.nuisancesPerHour(),
            other.missed(),
            other.medianLead(),
            evidence.rules().get(r).marginPercent());
        return;
      }
    }
    if (here.events() == 0) {
      out.line(
          "No events, so nothing supports earlier alerts. Log tethered flights up to the knee.");
    }
  }

  /** Comparison with current practice. */
  private void voltage(Recommendation.Finding finding) {
    VoltageEvidence evidence = tuner.voltage();
    double asked = finding.evidence().requiredLead();
    int best = evidence.best(finding.chosenScore().nuisances(), asked);
    Score s = evidence.score(best, asked);
    out.line(
        "%-13s %6.1f %s | %6d %5d %7.1f %7.2f",
        "fixed voltage",
        evidence.volts(best),
        "V, best with hindsight ",
        s.missed(),
        s.late(),
        s.leadSeconds(),
        s.nuisancesPerHour());
  }

  /** Reports whether the level precedes the one that it should. */
  private void order(Recommendation.Finding finding) {
    if (finding.evidence().aim() == LevelAim.WARNING) {
      return;
    }
    Score here = finding.chosenScore();
    if (finding.kept() == Recommendation.Kept.NOT && here.inverted() > 0) {
      out.line(
          "On %d of %d events it is later than the next level, though an earlier alert",
          here.inverted(), here.events());
      out.text("is possible.");
    }
  }

  private void row(String name, Evidence evidence, int rule) {
    LevelRule r = evidence.rules().get(rule);
    Score s = evidence.score(rule);
    out.line(
        "%-13s %6.1f %5.1f %5.2f %5.1f %5.1f | %6d %5d %7.1f %7.2f",
        name,
        r.marginPercent(),
        r.timeSeconds(),
        r.onDelaySeconds(),
        r.offDelaySeconds(),
        r.hysteresisPercent(),
        s.missed(),
        s.late(),
        s.leadSeconds(),
        s.nuisancesPerHour());
  }

  private void words(String craft) {
    out.line(
        "Recommended for %s, based on %d flights, %.2f h:",
        craft, tuner.flights().size(), tuner.hours());
    for (LevelAim aim : LevelAim.values()) {
      for (String part : Wrapped.lines(recommendation.rules().words(aim.level()), 76)) {
        out.line("  %s", part);
      }
    }
    out.blank();
  }

  private void alarmRate() {
    int raises = 0;
    int nuisances = 0;
    for (Recommendation.Finding finding : recommendation.findings().values()) {
      raises += finding.chosenScore().raises();
      nuisances += finding.chosenScore().nuisances();
    }
    out.line(
        "Alarm rates (EEMUA 191, ISA-18.2, IEC 62682): about one in 10 minutes is manageable,");
    out.line(
        "3 in one minute is chatter (never more than 3 here). Recommended: %.1f alerts in",
        raises / Math.max(tuner.hours(), 1e-9) / 6);
    double tens = Math.max(tuner.hours(), 1e-9) * 6;
    out.line(
        "10 minutes on these flights over all levels, of which %.1f are nuisances.",
        nuisances / tens);
    if (raises / tens > MANAGEABLE) {
      out.text(
          "That is more than is manageable: these flights reach the limit too often. Fly with");
      out.text("more margin; fewer alerts would miss losses.");
    }
    out.text("TCAS II gives a trained crew 5 s to respond.");
  }
}
