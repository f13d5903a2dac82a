package org.solarmargin.sim.timing;

/**
 * The timing of one sensor's reading relative to the true value: filter, pure delay, and
 * sample-and-hold, in this order.
 *
 * <p>With {@link FilterShape#FIRST_ORDER} the three times correspond to those of the same names in
 * the estimator's {@link org.solarmargin.core.timing.ChannelTiming}. The other shapes are outside
 * the estimator's model: their mean lag is twice the filter time for {@link
 * FilterShape#SECOND_ORDER}, half of it for {@link FilterShape#AVERAGE}.
 *
 * @param shape shape of the filter
 * @param filterSeconds filter time, s; 0 for no filter
 * @param delaySeconds pure delay, s; 0 for none
 * @param periodSeconds interval between fresh readings, repeated in between, s; 0 for a reading
 *     that is always fresh
 */
public record ReadingTiming(
    FilterShape shape, double filterSeconds, double delaySeconds, double periodSeconds) {

  /** A reading of the present instant. */
  public static final ReadingTiming IMMEDIATE = new ReadingTiming(FilterShape.FIRST_ORDER, 0, 0, 0);

  /**
   * Whether the reading belongs to the present instant.
   *
   * @return true if there is no filter, no delay and no hold
   */
  public boolean immediate() {
    return filterSeconds <= 0 && delaySeconds <= 0 && periodSeconds <= 0;
  }
}
