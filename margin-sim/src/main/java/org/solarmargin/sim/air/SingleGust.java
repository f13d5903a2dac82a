package org.solarmargin.sim.air;

/**
 * A single gust of one minus cosine.
 *
 * @param startSeconds when it begins; infinite for never
 * @param peak downward air positive, m/s
 * @param lengthSeconds from start to end
 */
public record SingleGust(double startSeconds, double peak, double lengthSeconds) {

  /** No gust. */
  public static final SingleGust NONE = new SingleGust(Double.POSITIVE_INFINITY, 0, 1);
}
