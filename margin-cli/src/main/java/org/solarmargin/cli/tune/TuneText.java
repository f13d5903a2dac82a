package org.solarmargin.cli.tune;

import java.io.PrintWriter;
import java.util.List;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.tune.rule.Chance;
import org.solarmargin.cli.tune.rule.Evidence;
import org.solarmargin.cli.tune.rule.FlightTally;
import org.solarmargin.cli.tune.rule.LevelAim;
import org.solarmargin.cli.tune.rule.Recommendation;
import org.solarmargin.cli.tune.rule.Score;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.cli.tune.rule.VoltageEvidence;
import org.solarmargin.core.alert.LevelRule;

/** What tune prints, 80 columns. */
final class TuneText {

  /** Alarms in 10 minutes, see {@link #yardsticks}. */
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
    yardsticks();
    out.text("Advisory only, not certified. Keep a landing option at all times.");
    out.flush();
  }

  private void events() {
    List<FlightTally> real = tuner.flights().stream().filter(f -> !f.simulated()).toList();
    int simulated = tuner.flights().size() - real.size();
    out.line(
        "%d logged flights, %.2f h in the air, %d events; %d rules tried",
        real.size(),
        real.stream().mapToDouble(FlightTally::hours).sum(),
        tuner.realEvents(),
        tuner.ruleCount());
    if (simulated == 0 && tuner.fewEvents()) {
      out.line(
          "FEW EVENTS: fewer than %d were logged; nothing stands in for them.", Tuner.FEW_EVENTS);
    }
    if (simulated > 0) {
      out.line(
          "FEW EVENTS: fewer than %d were logged, so %d simulated flights of this craft",
          Tuner.FEW_EVENTS, simulated);
      out.line(
          "(%.2f h, %d events) stand in for them. A model's word: fly, log, tune again.",
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
      out.line("Strike one with --strike LOG@TIME, add one with --event LOG@TIME.");
    }
    out.blank();
  }

  /** What was recognised of the logs, and what is wrong with them. */
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
      out.line("log    and %d more: see margin replay", shown - MARKS);
    }
  }

  /** The flyer's marks that do not stand for a loss. */
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
          "Marks judge nothing; a loss begins with one of: loss, lost, sank, fell, crash, ...");
      out.line("(see margin tune --help).");
    }
  }

  private void level(Recommendation.Finding finding) {
    Evidence evidence = finding.evidence();
    out.line(
        "%s: lead of %.0f s asked for, %.2g nuisances an hour borne",
        evidence.aim(), evidence.leadAsked(), evidence.nuisancesBorne());
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
          "With 95 %% probability at most %.0f %% of events missed, %.2g nuisances an hour.",
          100 * Chance.shareAtMost(validated.missed(), validated.events()),
          Chance.rateAtMost(validated.nuisances(), validated.hours()));
    } else {
      out.line("One flight cannot be left out: what was chosen is not validated.");
    }
    if (evidence.aim() == LevelAim.WARNING) {
      voltage(finding);
    }
    whatWouldChangeIt(finding);
    out.blank();
  }

  /** The neighbours on the frontier: what more or fewer nuisances would buy. */
  private void whatWouldChangeIt(Recommendation.Finding finding) {
    Evidence evidence = finding.evidence();
    Score here = finding.chosenScore();
    if (!finding.kept() && here.nuisancesPerHour() > evidence.nuisancesBorne()) {
      out.line("No rule tried stays within the nuisances borne: this one has the fewest.");
    }
    order(finding);
    for (int r : finding.frontier()) {
      Score other = evidence.score(r);
      boolean gains =
          other.missed() < here.missed() || other.medianLead() > here.medianLead() + 0.5;
      if (other.nuisances() > here.nuisances() && gains) {
        out.line(
            "Bearing %.2f an hour would give %d missed and %.1f s of lead (margin %.0f %%).",
            other.nuisancesPerHour(),
            other.missed(),
            other.medianLead(),
            evidence.rules().get(r).marginPercent());
        return;
      }
    }
    if (here.events() == 0) {
      out.line("No event: nothing speaks for earlier alerts. Log flights to the edge, tethered.");
    }
  }

  /** Beside today's practice. */
  private void voltage(Recommendation.Finding finding) {
    VoltageEvidence evidence = tuner.voltage();
    double asked = finding.evidence().leadAsked();
    int best = evidence.best(finding.chosenScore().nuisances(), asked);
    Score s = evidence.score(best, asked);
    out.line(
        "%-13s %6.1f %s | %6d %5d %7.1f %7.2f",
        "fixed voltage",
        evidence.volts(best),
        "V, best by hindsight   ",
        s.missed(),
        s.late(),
        s.leadSeconds(),
        s.nuisancesPerHour());
  }

  /** Whether the level precedes the one that it should. */
  private void order(Recommendation.Finding finding) {
    if (finding.evidence().aim() == LevelAim.WARNING) {
      return;
    }
    Score here = finding.chosenScore();
    if (finding.kept()) {
      out.line(
          "NO RULE within the nuisances borne comes before the next level on more events than the");
      out.line(
          "present one, which is kept: it comes after on %d of %d.",
          here.inverted(), here.events());
    } else if (here.inverted() > 0) {
      out.line(
          "On %d of %d events it comes after the next level, though the fade allows more lead.",
          here.inverted(), here.events());
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
        "Recommended for %s, resting on %d flights, %.2f h:",
        craft, tuner.flights().size(), tuner.hours());
    for (LevelAim aim : LevelAim.values()) {
      for (String part : Wrapped.lines(recommendation.rules().words(aim.level()), 76)) {
        out.line("  %s", part);
      }
    }
    out.blank();
  }

  private void yardsticks() {
    int raises = 0;
    int nuisances = 0;
    for (Recommendation.Finding finding : recommendation.findings().values()) {
      raises += finding.chosenScore().raises();
      nuisances += finding.chosenScore().nuisances();
    }
    out.line("Alarm discipline (EEMUA 191, ISA-18.2, IEC 62682): about one in 10 minutes is");
    out.line(
        "manageable, 3 in one minute is chatter (never told here). Recommended: %.1f in",
        raises / Math.max(tuner.hours(), 1e-9) / 6);
    double tens = Math.max(tuner.hours(), 1e-9) * 6;
    out.line("10 minutes on these flights, all levels; %.1f of them nuisances.", nuisances / tens);
    if (raises / tens > MANAGEABLE) {
      out.text("That is more than is manageable: these flights come to the limit too often. Fly");
      out.text("with more margin; raising less would miss losses.");
    }
    out.text("TCAS II gives a trained crew 5 s to respond.");
  }
}
