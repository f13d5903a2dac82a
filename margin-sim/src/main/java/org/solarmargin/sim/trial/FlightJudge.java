package org.solarmargin.sim.trial;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.limiter.ThrottleLimiter;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.verdict.Verdict;
import org.solarmargin.sim.flight.FlightPlan;
import org.solarmargin.sim.flight.FlightSample;
import org.solarmargin.sim.flight.FlightWatcher;
import org.solarmargin.sim.flight.LossOfLift;

/**
 * Feeds a simulated flight to a monitor, limits the throttle if asked to, and evaluates the flight.
 */
final class FlightJudge implements FlightWatcher {

  private static final double JUDGED_AFTER = 8;
  private static final double SETTLED_SECONDS = 10;

  private final FlightPlan plan;
  private final boolean limiter;
  private final MarginMonitor monitor;
  private final ThrottleLimiter hold = new ThrottleLimiter();

  private double seconds;
  private double airborneSince = Double.NaN;
  private double kneeSince = Double.NaN;
  private double loss = Double.NaN;
  private double warned = Double.NaN;
  private double warningSince = Double.NaN;
  private double warningAtKnee = Double.NaN;
  private final NuisanceCount nuisances = new NuisanceCount();
  private final VoltageBank voltage;
  private int warnings;
  private final AccuracyTally accuracy = new AccuracyTally();
  private double wanted = Double.NaN;
  private double wantedSince;
  private double heightLost;

  FlightJudge(CraftProfile profile, FlightPlan plan, boolean limiter) {
    this.plan = plan;
    this.limiter = limiter;
    this.voltage = new VoltageBank(profile);
    this.monitor = new MarginMonitor(profile.settings(), profile.rules(), this::onAlert);
  }

  private void onAlert(
      long timeNanos,
      AlertLevel level,
      boolean raised,
      AlertReason reason,
      double marginLowPercent,
      double secondsToZero) {
    if (level != AlertLevel.WARNING) {
      return;
    }
    if (raised) {
      warnings++;
      warningSince = timeNanos * 1e-9;
      nuisances.raised(warningSince);
    } else {
      warningSince = Double.NaN;
    }
  }

  @Override
  public double onSample(FlightSample s) {
    seconds = s.seconds;
    if (s.missing) {
      return limiter ? hold.last() : 1;
    }
    Verdict verdict =
        monitor.update(Math.round(s.seconds * 1e9), s.busVolts, s.busAmps, s.throttle);
    followNuisance(s);
    followLoss(s);
    followHeight(s);
    if (verdict == Verdict.ACCEPTED) {
      judge(s);
    }
    return limiter ? hold.cap(monitor.reading(), monitor.airborne()) : 1;
  }

  private void followNuisance(FlightSample s) {
    boolean airborne = s.throttle > LossOfLift.AIRBORNE_THROTTLE;
    double ratio = s.availableWatts / Math.max(s.demandWatts, 1);
    nuisances.follow(s.seconds, airborne, ratio);
    voltage.take(s.seconds, s.busVolts, airborne, ratio);
  }

  private void followLoss(FlightSample s) {
    boolean airborne = s.throttle > LossOfLift.AIRBORNE_THROTTLE && s.heightMetres > 0.3;
    if (!airborne || !LossOfLift.pastKnee(s.trueVolts, s.peakVolts)) {
      kneeSince = Double.NaN;
      return;
    }
    if (Double.isNaN(kneeSince)) {
      kneeSince = s.seconds;
      warningAtKnee = warningSince;
      if (!lost()) {
        voltage.atKnee();
      }
    }
    if (!lost() && s.seconds - kneeSince >= LossOfLift.SECONDS) {
      loss = kneeSince;
      warned = kneeSince - warningAtKnee;
      voltage.lost(kneeSince);
    }
  }

  private boolean lost() {
    return !Double.isNaN(loss);
  }

  private void followHeight(FlightSample s) {
    double now = plan.height(s.seconds);
    if (now != wanted) {
      wanted = now;
      wantedSince = s.seconds;
    }
    if (now > 0 && s.seconds - wantedSince > (wantedSince == 0 ? 0 : SETTLED_SECONDS)) {
      heightLost = Math.max(heightLost, now - s.heightMetres);
    }
  }

  private void judge(FlightSample s) {
    if (s.throttle <= LossOfLift.AIRBORNE_THROTTLE) {
      airborneSince = Double.NaN;
      return;
    }
    airborneSince = Double.isNaN(airborneSince) ? s.seconds : airborneSince;
    if (s.seconds - airborneSince < JUDGED_AFTER || lost() || !Double.isNaN(kneeSince)) {
      return;
    }
    accuracy.take(s, monitor.reading(), monitor.normalisedInnovation());
  }

  Outcome outcome(int scenario, int flight) {
    return new Outcome(
        scenario,
        flight,
        limiter,
        seconds,
        new Outcome.Alerts(loss, warned, nuisances.count(loss), warnings),
        accuracy.accuracy(),
        new Outcome.KneeSigns(
            monitor.kneeByModelOnly(), monitor.kneeByPowerDropOnly(), monitor.kneeByBoth()),
        heightLost,
        voltage.outcome(loss));
  }
}
