package org.solarmargin.sim.trial;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * What flyers have had so far: an alarm that is raised once the bus voltage has stayed under a
 * fixed threshold, and withdrawn once it has stayed 2 % above.
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
   * An alarm that does not stand.
   *
   * @param volts threshold, V
   * @param onDelay how long the voltage must stay under it, s
   * @param offDelay how long it must stay above, s
   */
  public VoltageAlarm(double volts, double onDelay, double offDelay) {
    this.volts = volts;
    this.onDelay = onDelay;
    this.offDelay = offDelay;
  }

  /**
   * Thresholds to choose from: 40 to 100 % of the array's open-circuit voltage in 1000 W/m2 at 25
   * degrees Celsius, in steps of 1 %.
   *
   * @param settings of the craft
   * @return V, rising
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
   * Takes a sample.
   *
   * @param seconds its time, s
   * @param step since the last, s
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

  /** On the ground nothing stands. */
  public void clear() {
    under = 0;
    over = 0;
    raisedAt = Double.NaN;
  }

  /**
   * Since when it stands.
   *
   * @return s; NaN if it does not
   */
  public double since() {
    return raisedAt;
  }
}
