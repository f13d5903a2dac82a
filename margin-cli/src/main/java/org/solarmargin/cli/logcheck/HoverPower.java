package org.solarmargin.cli.logcheck;

import java.util.Locale;
import java.util.Optional;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;

/**
 * A hover power more than 25 % off that of the profile (engineering judgement). The median decides
 * whether it is too high. Wind reduces hover power (translational lift: the demo flight in gusts
 * has a median of 67 %), so the 90 % quantile decides whether it is too low. Quantiles come from a
 * histogram with steps of 2 %.
 */
final class HoverPower implements LogCheck {

  private static final double FAR = 0.25;
  private static final double STEP = Math.log(1.02);
  private static final int HALF = 233;

  private final Rotor rotor;
  private final int[] seconds = new int[2 * HALF + 1];
  private int count;

  HoverPower(Rotor rotor) {
    this.rotor = rotor;
  }

  @Override
  public void take(FlightBlock block, FlightBlock before) {
    double ratio = Math.max(block.volts() * block.amps() / rotor.hoverWatts(), 1e-9);
    long step = Math.round(Math.log(ratio) / STEP);
    seconds[(int) Math.min(Math.max(step, -HALF), HALF) + HALF]++;
    count++;
  }

  @Override
  public Optional<Finding> finding() {
    if (!rotor.known() || count < LEAST_BLOCKS) {
      return Optional.empty();
    }
    double median = quantile(0.5);
    return median > 1 + FAR || quantile(0.9) < 1 - FAR
        ? Optional.of(
            new Finding(
                String.format(
                    Locale.ROOT,
                    "hover takes about %.3g W in flight, %.3g W in the profile",
                    median * rotor.hoverWatts(),
                    rotor.hoverWatts()),
                "check rotor.hover_power_w and the scales of bus_v and bus_a",
                false))
        : Optional.empty();
  }

  private double quantile(double share) {
    long below = 0;
    for (int i = 0; i < seconds.length; i++) {
      below += seconds[i];
      if (below >= share * count) {
        return Math.exp((i - HALF) * STEP);
      }
    }
    throw new IllegalStateException("count must be the sum of the bins: " + count);
  }
}
