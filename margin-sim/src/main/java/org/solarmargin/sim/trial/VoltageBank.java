package org.solarmargin.sim.trial;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.CraftProfile;

/** Fixed voltage alarms with many thresholds over one flight, to find the best with hindsight. */
final class VoltageBank {

  private final List<VoltageAlarm> alarms = new ArrayList<>();
  private final List<NuisanceCount> nuisances = new ArrayList<>();
  private final double[] sinceAtKnee;
  private final double[] leads;
  private double last = Double.NaN;

  VoltageBank(CraftProfile profile) {
    LevelRule rule = profile.rules().warning();
    for (double volts : VoltageAlarm.thresholds(profile.settings())) {
      alarms.add(new VoltageAlarm(volts, rule.onDelaySeconds(), rule.offDelaySeconds()));
      nuisances.add(new NuisanceCount());
    }
    sinceAtKnee = new double[alarms.size()];
    leads = new double[alarms.size()];
    java.util.Arrays.fill(leads, Double.NaN);
  }

  void take(double seconds, double busVolts, boolean airborne, double ratio) {
    double step = Double.isNaN(last) ? 0 : seconds - last;
    last = seconds;
    for (int i = 0; i < sinceAtKnee.length; i++) {
      VoltageAlarm alarm = alarms.get(i);
      if (!airborne) {
        alarm.clear();
      } else if (alarm.follow(seconds, step, busVolts)) {
        nuisances.get(i).raised(seconds);
      }
      nuisances.get(i).follow(seconds, airborne, ratio);
    }
  }

  /** Called when the craft has just gone past the knee. */
  void atKnee() {
    for (int i = 0; i < sinceAtKnee.length; i++) {
      sinceAtKnee[i] = alarms.get(i).since();
    }
  }

  /** Called when the craft has stayed past the knee, which is a loss. */
  void lost(double kneeSeconds) {
    for (int i = 0; i < leads.length; i++) {
      leads[i] = kneeSeconds - sinceAtKnee[i];
    }
  }

  Outcome.Voltage outcome(double lossSeconds) {
    List<Double> own = new ArrayList<>();
    List<Integer> counts = new ArrayList<>();
    for (int i = 0; i < leads.length; i++) {
      own.add(leads[i]);
      counts.add(nuisances.get(i).count(lossSeconds));
    }
    return new Outcome.Voltage(own, counts);
  }
}
