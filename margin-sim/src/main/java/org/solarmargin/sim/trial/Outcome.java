package org.solarmargin.sim.trial;

import java.util.List;

/**
 * The outcome of one simulated flight.
 *
 * @param scenario index in the list of scenarios
 * @param flight number of the flight, from 0
 * @param limiter whether the throttle was limited to the ceiling
 * @param seconds duration, s
 * @param alerts loss of lift and WARNINGs
 * @param accuracy accuracy of the estimate
 * @param knee detections of flight past the knee
 * @param heightLost largest descent below a height that the craft had reached, m
 * @param voltage outcome of fixed voltage alarms
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
   * Loss of lift and WARNINGs.
   *
   * @param lossSeconds onset of the loss, s; NaN if there was none
   * @param warnedSeconds time from the raising of the active WARNING to the loss, s; NaN if none
   *     was active
   * @param nuisances number of WARNINGs after which the margin stayed above 15 % for 10 s
   * @param warnings number of WARNINGs raised
   */
  public record Alerts(double lossSeconds, double warnedSeconds, int nuisances, int warnings) {}

  /**
   * Detections of flight past the knee, in samples.
   *
   * @param modelOnly detected by the model alone
   * @param powerDropOnly detected by rising throttle with falling power alone
   * @param both detected by both
   */
  public record KneeSigns(long modelOnly, long powerDropOnly, long both) {}

  /**
   * Outcome of alarms at fixed voltages, by increasing threshold.
   *
   * @param leads how long each had been active before the loss, s; NaN if it was not active, or
   *     without a loss
   * @param nuisances number of nuisance alarms of each, counted like those of the WARNINGs
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
   * Whether the craft was lost without an active WARNING.
   *
   * @return true if the loss was not warned of
   */
  public boolean missed() {
    return lost() && Double.isNaN(alerts.warnedSeconds());
  }
}
