package org.solarmargin.sim.trial;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * An alarm at a fixed voltage, as flyers use today: it is raised once the bus voltage has stayed
 * below a threshold, and cleared once it has stayed 2 % above it.
 */
public final class VoltageAlarm {

  private static final double RELEASE = 1.02;

  private final double volts;
  private final double onDelay;
  private final double offDelay;
  private double under;
  private double over;
  private double raisedAt = Double.NaN;

  /**
   * Creates an alarm that is not active.
   *
   * @param volts threshold, V
   * @param onDelay how long the voltage must stay below the threshold, s
   * @param offDelay how long it must stay above it, s
   */
  public VoltageAlarm(double volts, double onDelay, double offDelay) {
    this.volts = volts;
    this.onDelay = onDelay;
    this.offDelay = offDelay;
  }

  /**
   * Candidate thresholds: 40 to 100 % of the array's open-circuit voltage in 1000 W/m2 at 25
   * degrees Celsius, in steps of 1 %.
   *
   * @param settings settings of the craft
   * @return V, increasing
   */
  public static List<Double> thresholds(EstimatorSettings settings) {
    SolarArray array = settings.newArray();
    array.set(1, 25);
    List<Double> volts = new ArrayList<>();
    for (int percent = 40; percent <= 100; percent++) {
      volts.add(array.openCircuitVolts() * percent / 100);
    }
    return volts;
  }

  /**
   * Processes a sample.
   *
   * @param seconds time of the sample, s
   * @param step time since the last sample, s
   * @param busVolts V
   * @return whether the alarm is raised by it
   */
  public boolean follow(double seconds, double step, double busVolts) {
    under = busVolts < volts ? under + step : 0;
    over = busVolts > RELEASE * volts ? over + step : 0;
    if (Double.isNaN(raisedAt)) {
      if (under > 0 && under >= onDelay) {
        raisedAt = seconds;
        return true;
      }
    } else if (over > 0 && over >= offDelay) {
      raisedAt = Double.NaN;
    }
    return false;
  }

  /** Clears the alarm, for a craft on the ground. */
  public void clear() {
    under = 0;
    over = 0;
    raisedAt = Double.NaN;
  }

  /**
   * When the active alarm was raised.
   *
   * @return s; NaN if it is not active
   */
  public double since() {
    return raisedAt;
  }
}
