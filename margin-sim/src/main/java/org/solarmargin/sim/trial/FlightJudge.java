package org.solarmargin.sim.trial;

import java.util.Arrays;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.limiter.ThrottleLimiter;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.FlightPlan;
import org.solarmargin.sim.flight.FlightSample;
import org.solarmargin.sim.flight.FlightWatcher;

/**
 * Feeds a simulated flight to the estimator, holds the throttle if asked to, and keeps the score.
 */
final class FlightJudge implements FlightWatcher {

  private static final double JUDGED_AFTER = 8;
  private static final double AIRBORNE_THROTTLE = 0.2;
  private static final double KNEE_SHARE = 0.92;
  private static final double LOSS_SECONDS = 0.3;
  private static final double NEAR_RATIO = 1.3;
  private static final double GAP_LOAD = 0.6;
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
  private long samples;
  private double squaredError;
  private double errorSum;
  private final long[] errorCounts = new long[Outcome.ERROR_CLASSES];
  private double innovationSum;
  private long optimistic;
  private long covered;
  private final long[] loadSamples = new long[Outcome.LOADS.size()];
  private final long[] loadCovered = new long[Outcome.LOADS.size()];
  private long nearSamples;
  private double nearSquaredError;
  private double gapSum;
  private long gapSamples;
  private long ceilingSamples;
  private double ceilingSquaredError;
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
    boolean airborne = s.throttle > AIRBORNE_THROTTLE;
    double ratio = s.availableWatts / Math.max(s.demandWatts, 1);
    nuisances.follow(s.seconds, airborne, ratio);
    voltage.take(s.seconds, s.busVolts, airborne, ratio);
  }

  private void followLoss(FlightSample s) {
    boolean airborne = s.throttle > AIRBORNE_THROTTLE && s.heightMetres > 0.3;
    if (!airborne || s.trueVolts >= KNEE_SHARE * s.peakVolts) {
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
    if (!lost() && s.seconds - kneeSince >= LOSS_SECONDS) {
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
    if (s.throttle <= AIRBORNE_THROTTLE) {
      airborneSince = Double.NaN;
      return;
    }
    airborneSince = Double.isNaN(airborneSince) ? s.seconds : airborneSince;
    if (s.seconds - airborneSince < JUDGED_AFTER || lost() || !Double.isNaN(kneeSince)) {
      return;
    }
    MarginReading reading = monitor.reading();
    double error = reading.availableWatts() / s.availableWatts - 1;
    boolean holds = reading.availableLowWatts() <= s.availableWatts;
    double load = s.demandWatts / s.availableWatts;
    samples++;
    squaredError += error * error;
    errorSum += error;
    int size = (int) Math.min(Math.abs(error) / Outcome.ERROR_STEP, Outcome.ERROR_CLASSES - 1.0);
    errorCounts[size]++;
    innovationSum += monitor.normalisedInnovation();
    optimistic += error > 0.05 ? 1 : 0;
    covered += holds ? 1 : 0;
    int bin = 0;
    while (load >= Outcome.LOADS.get(bin)) {
      bin++;
    }
    loadSamples[bin]++;
    loadCovered[bin] += holds ? 1 : 0;
    if (load > 1 / NEAR_RATIO) {
      nearSamples++;
      nearSquaredError += error * error;
    }
    if (load >= GAP_LOAD) {
      gapSamples++;
      gapSum += 1 - reading.availableLowWatts() / reading.availableWatts();
    }
    if (s.ceiling < 1 && reading.status() != Status.WARMING_UP) {
      double ceilingError = reading.throttleCeiling() / s.ceiling - 1;
      ceilingSamples++;
      ceilingSquaredError += ceilingError * ceilingError;
    }
  }

  Outcome outcome(int scenario, int flight) {
    return new Outcome(
        scenario,
        flight,
        limiter,
        seconds,
        loss,
        warned,
        nuisances.count(loss),
        warnings,
        samples,
        squaredError,
        errorSum,
        Arrays.stream(errorCounts).boxed().toList(),
        innovationSum,
        optimistic,
        covered,
        Arrays.stream(loadSamples).boxed().toList(),
        Arrays.stream(loadCovered).boxed().toList(),
        nearSamples,
        nearSquaredError,
        gapSamples == 0 ? Double.NaN : gapSum / gapSamples,
        ceilingSamples,
        ceilingSquaredError,
        monitor.kneeByModelOnly(),
        monitor.kneeByWitnessOnly(),
        monitor.kneeByBoth(),
        heightLost,
        voltage.outcome(loss));
  }
}
