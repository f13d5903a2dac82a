package org.solarmargin.sim.trial;

import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.profile.CraftProfile;

/**
 * The best fixed voltage alarm for a set of flights, chosen with hindsight: among the thresholds
 * with no more nuisance alarms than the WARNINGs, the one that misses the fewest losses, and among
 * these the one with the longest median lead time.
 */
public final class BestVoltage {

  private final List<Outcome> flights;
  private final List<Double> thresholds;
  private final int best;

  /**
   * Chooses the threshold.
   *
   * @param profile profile of the craft
   * @param flights outcomes of one or more flights
   */
  public BestVoltage(CraftProfile profile, List<Outcome> flights) {
    this.flights = List.copyOf(flights);
    thresholds = VoltageAlarm.thresholds(profile.settings());
    int allowed = flights.stream().mapToInt(o -> o.alerts().nuisances()).sum();
    int chosen = 0;
    for (int i = 1; i < thresholds.size(); i++) {
      boolean better =
          missed(i) != missed(chosen)
              ? missed(i) < missed(chosen)
              : lead(i, 0.5) > lead(chosen, 0.5) || Double.isNaN(lead(chosen, 0.5));
      if (nuisances(i) <= allowed && better) {
        chosen = i;
      }
    }
    best = chosen;
  }

  private long missed(int threshold) {
    return flights.stream()
        .filter(o -> o.lost() && Double.isNaN(o.voltage().leads().get(threshold)))
        .count();
  }

  private int nuisances(int threshold) {
    return flights.stream().mapToInt(o -> o.voltage().nuisances().get(threshold)).sum();
  }

  private double lead(int threshold, double share) {
    double[] leads =
        flights.stream()
            .filter(Outcome::lost)
            .mapToDouble(o -> o.voltage().leads().get(threshold))
            .filter(lead -> !Double.isNaN(lead))
            .sorted()
            .toArray();
    int at = (int) Math.min(share * leads.length, leads.length - 1.0);
    return leads.length == 0 ? Double.NaN : Arrays.stream(leads).skip(at).findFirst().orElseThrow();
  }

  /**
   * The chosen threshold.
   *
   * @return V
   */
  public double volts() {
    return thresholds.get(best);
  }

  /**
   * Number of losses before which the alarm was not active.
   *
   * @return count
   */
  public long missed() {
    return missed(best);
  }

  /**
   * A quantile of its lead times.
   *
   * @param share probability of the quantile, 0 to 1
   * @return s; NaN if it was active before no loss
   */
  public double lead(double share) {
    return lead(best, share);
  }

  /**
   * Rate of its nuisance alarms.
   *
   * @return 1/h
   */
  public double nuisancesPerHour() {
    return nuisances(best) / (flights.stream().mapToDouble(Outcome::seconds).sum() / 3600);
  }
}
