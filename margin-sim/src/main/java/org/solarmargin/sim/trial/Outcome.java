package org.solarmargin.sim.trial;

import java.util.List;

/**
 * What came of one simulated flight.
 *
 * @param scenario its place in the list of scenarios
 * @param flight its number, from 0
 * @param limiter whether the throttle was held under the ceiling
 * @param seconds length
 * @param alerts loss of lift and what the WARNING did
 * @param accuracy of the estimate
 * @param knee which signs of being past the knee were seen
 * @param heightLost most that the craft sank under a height it had held, m
 * @param voltage what fixed voltage alarms would have told
 */
public record Outcome(
    int scenario,
    int flight,
    boolean limiter,
    double seconds,
    Alerts alerts,
    Accuracy accuracy,
    KneeSigns knee,
    double heightLost,
    Voltage voltage) {

  /**
   * Loss of lift and what the WARNING did.
   *
   * @param lossSeconds onset of the loss; NaN if none
   * @param warnedSeconds how long before the loss a standing WARNING was raised; NaN if none stood
   * @param nuisances WARNINGs raised with 15 % margin kept for 10 s after
   * @param warnings WARNINGs raised
   */
  public record Alerts(double lossSeconds, double warnedSeconds, int nuisances, int warnings) {}

  /**
   * Signs of being past the knee, in samples.
   *
   * @param modelOnly seen by the model alone
   * @param powerDropOnly seen by throttle up, power down alone
   * @param both seen by both
   */
  public record KneeSigns(long modelOnly, long powerDropOnly, long both) {}

  /**
   * What alarms at fixed voltages would have told, by rising threshold.
   *
   * @param leads how long each had stood before the loss, s; NaN if it did not stand, or without a
   *     loss
   * @param nuisances of each, by the yardstick of the WARNINGs
   */
  public record Voltage(List<Double> leads, List<Integer> nuisances) {

    /** Copies the lists. */
    public Voltage {
      leads = List.copyOf(leads);
      nuisances = List.copyOf(nuisances);
    }
  }

  /**
   * Whether the craft was lost.
   *
   * @return true if it stayed past the knee
   */
  public boolean lost() {
    return !Double.isNaN(alerts.lossSeconds());
  }

  /**
   * Whether it was lost with no standing WARNING.
   *
   * @return true if so
   */
  public boolean missed() {
    return lost() && Double.isNaN(alerts.warnedSeconds());
  }
}
