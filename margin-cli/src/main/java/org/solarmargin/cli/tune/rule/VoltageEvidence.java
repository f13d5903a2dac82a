package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.trial.VoltageAlarm;

/**
 * Comparison with current practice: results of fixed bus-voltage alarms with the present WARNING's
 * delays on the same flights. The best is chosen with hindsight.
 */
public final class VoltageEvidence {

  /** Results of each threshold on one flight. */
  static final class Tally {
    private final float[][] leads;
    private final int[] nuisances;
    private final int[] raises;
    private final double hours;

    private Tally(int thresholds, int events, double hours) {
      leads = new float[thresholds][events];
      nuisances = new int[thresholds];
      raises = new int[thresholds];
      this.hours = hours;
    }
  }

  private final List<Double> thresholds;
  private final LevelRule rule;
  private final List<Tally> flights = new ArrayList<>();

  VoltageEvidence(CraftProfile profile) {
    thresholds = VoltageAlarm.thresholds(profile.settings());
    rule = profile.rules().warning();
  }

  /** Evaluates all thresholds on a flight; may be called by any thread. */
  Tally judge(JudgedFlight flight) {
    int count = thresholds.size();
    Tally tally = new Tally(count, flight.events().size(), flight.airborneHours());
    for (int t = 0; t < count; t++) {
      judge(flight, t, tally);
    }
    return tally;
  }

  private void judge(JudgedFlight flight, int threshold, Tally to) {
    VoltageAlarm alarm =
        new VoltageAlarm(thresholds.get(threshold), rule.onDelaySeconds(), rule.offDelaySeconds());
    int quiet = JudgedFlight.QUIET << LevelAim.WARNING.ordinal();
    Arrays.fill(to.leads[threshold], Float.NaN);
    int event = 0;
    double before = 0;
    for (int i = 0; i < flight.size(); i++) {
      double now = flight.seconds(i);
      while (event < to.leads[threshold].length && flight.eventBlock(event) <= i) {
        to.leads[threshold][event++] = (float) (now - alarm.since());
      }
      if ((flight.flags(i) & JudgedFlight.GROUNDED) != 0) {
        alarm.clear();
      } else if (alarm.follow(now, now - before, flight.volts(i))) {
        to.raises[threshold]++;
        to.nuisances[threshold] += (flight.flags(i) & quiet) != 0 ? 1 : 0;
      }
      before = now;
    }
  }

  /** Adds a result of {@link #judge}; must be called by one thread. */
  void add(Tally tally) {
    flights.add(tally);
  }

  /**
   * The best threshold on these flights with no more nuisances than another alarm: fewest missed
   * events, then longest median lead time.
   */
  public int best(int nuisances, double requiredLead) {
    int best = 0;
    for (int t = 1; t < thresholds.size(); t++) {
      Score score = score(t, requiredLead);
      Score so = score(best, requiredLead);
      boolean better =
          score.missed() != so.missed()
              ? score.missed() < so.missed()
              : score.medianLead() > so.medianLead();
      if (score.nuisances() <= nuisances && better) {
        best = t;
      }
    }
    return best;
  }

  public double volts(int threshold) {
    return thresholds.get(threshold);
  }

  public Score score(int threshold, double requiredLead) {
    List<Double> leads = new ArrayList<>();
    int missed = 0;
    int late = 0;
    int nuisances = 0;
    int raises = 0;
    double hours = 0;
    for (Tally flight : flights) {
      for (float lead : flight.leads[threshold]) {
        missed += Float.isNaN(lead) ? 1 : 0;
        late += lead >= requiredLead ? 0 : 1;
        leads.add(Float.isNaN(lead) ? 0.0 : lead);
      }
      nuisances += flight.nuisances[threshold];
      raises += flight.raises[threshold];
      hours += flight.hours;
    }
    leads.sort(null);
    double median = leads.isEmpty() ? Double.NaN : leads.get(leads.size() / 2);
    return new Score(leads.size(), missed, 0, late, median, nuisances, raises, hours);
  }
}
