package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.state.StateBytes;

/**
 * Distinguishes calm light from the edge of a cloud by the voltage's innovation conditional on the
 * current's: it is white in calm light, and of one sign while the light changes faster than the
 * filter follows. The constants are engineering judgement; {@code ACCURACY.md} shows the result by
 * scenario.
 */
final class EdgeDetector {

  /** Process noise of the logarithm of the light in calm, 1 over root second. */
  static final double CALM_LIGHT_DRIFT = 0.02;

  /** The same at an edge. */
  private static final double EDGE_LIGHT_DRIFT = 0.4;

  private static final double WINDOW_SECONDS = 0.2;
  private static final double DECAY_SECONDS = 0.28;
  private static final double LONGEST_INNOVATION = 5;

  /**
   * Squared mean innovation over its variance in calm at which an edge begins; {@link #SPAN} above
   * it the process noise is that of an edge.
   */
  private static final double THRESHOLD = 3;

  private static final double SPAN = 10;

  private final FirstOrderLag decay = new FirstOrderLag(DECAY_SECONDS);
  private double drift;
  private double edge;

  void reset() {
    drift = 0;
    edge = 0;
  }

  /** Takes an innovation divided by its sigma. */
  void follow(double seconds, double innovation) {
    double share = StateBounds.clamp(seconds / WINDOW_SECONDS, 0.005, 0.5);
    double bounded = StateBounds.clamp(innovation, -LONGEST_INNOVATION, LONGEST_INNOVATION);
    drift += share * (bounded - drift);
    double excess = drift * drift / (share / (2 - share)) - THRESHOLD;
    double now = StateBounds.clamp(excess / SPAN, 0, 1);
    edge = Math.max(now, edge * decay.keep(seconds));
  }

  void write(StateBytes out) {
    out.put(drift);
    out.put(edge);
  }

  void read(StateBytes in) {
    drift = in.get();
    edge = StateBounds.clamp(in.get(), 0, 1);
  }

  /** Process noise of the logarithm of the light, 1 over root second. */
  double lightDrift() {
    return CALM_LIGHT_DRIFT + (EDGE_LIGHT_DRIFT - CALM_LIGHT_DRIFT) * edge;
  }
}
