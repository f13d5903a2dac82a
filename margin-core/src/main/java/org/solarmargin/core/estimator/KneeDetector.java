package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;

/**
 * Detects flight past the knee without a model: the throttle rises while the power falls.
 *
 * <p>Throttle and the logarithm of power each pass a fast and a slow first-order lag; the
 * difference of the two is the rise over about half a second. Before the knee, a throttle that has
 * risen by {@value #THROTTLE_RISE} while power has fallen by {@value #POWER_FALL} (relative) occurs
 * only briefly, in rising air; it must therefore last {@value #LAST_SECONDS} s. The constants are
 * engineering judgement, not tuned.
 */
final class KneeDetector {

  private static final double FAST_SECONDS = 0.08;
  private static final double SLOW_SECONDS = 0.6;
  private static final double THROTTLE_RISE = 0.03;
  private static final double POWER_FALL = 0.08;
  private static final double LAST_SECONDS = 0.15;
  private static final double POWER_MIN = 1e-3;

  private final FirstOrderLag fastLag = new FirstOrderLag(FAST_SECONDS);
  private final FirstOrderLag slowLag = new FirstOrderLag(SLOW_SECONDS);

  private double fastThrottle;
  private double slowThrottle;
  private double fastPower;
  private double slowPower;
  private double lasted;
  private boolean started;

  void reset() {
    started = false;
    lasted = 0;
  }

  void update(double seconds, double throttle, double watts) {
    double logPower = Math.log(Math.max(watts, POWER_MIN));
    if (!started || seconds > SLOW_SECONDS) {
      fastThrottle = throttle;
      slowThrottle = throttle;
      fastPower = logPower;
      slowPower = logPower;
      lasted = 0;
      started = true;
      return;
    }
    double fast = fastLag.share(seconds);
    double slow = slowLag.share(seconds);
    fastThrottle += fast * (throttle - fastThrottle);
    slowThrottle += slow * (throttle - slowThrottle);
    fastPower += fast * (logPower - fastPower);
    slowPower += slow * (logPower - slowPower);
    boolean wrongWay =
        fastThrottle - slowThrottle > THROTTLE_RISE && slowPower - fastPower > POWER_FALL;
    lasted = wrongWay ? lasted + seconds : 0;
  }

  boolean detected() {
    return lasted >= LAST_SECONDS;
  }
}
