package org.solarmargin.sim.air;

/**
 * A single gust of the form one minus cosine.
 *
 * @param startSeconds when it begins, s; infinite for never
 * @param peak peak speed, positive for downward air, m/s
 * @param lengthSeconds duration from start to end, s
 */
public record SingleGust(double startSeconds, double peak, double lengthSeconds) {

  /** No gust. */
  public static final SingleGust NONE = new SingleGust(Double.POSITIVE_INFINITY, 0, 1);
}
