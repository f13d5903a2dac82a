package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.state.StateBytes;

/** The demand behind a first-order lag of a tenth of a second, W. */
final class SteadyDemand {

  private static final double SECONDS = 0.1;

  private final FirstOrderLag lag = new FirstOrderLag(SECONDS);
  private double watts;

  void start(double now) {
    watts = now;
  }

  void follow(double step, double now) {
    watts += lag.share(step) * (now - watts);
  }

  double watts() {
    return watts;
  }

  void write(StateBytes out) {
    out.put(watts);
  }

  void read(StateBytes in) {
    watts = in.getNonNegative();
  }
}
