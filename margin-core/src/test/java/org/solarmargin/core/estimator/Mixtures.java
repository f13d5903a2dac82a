package org.solarmargin.core.estimator;

import java.util.Arrays;

/** Mixtures with given probabilities, for tests of their users. */
final class Mixtures {

  private Mixtures() {}

  /**
   * A mixture with these probabilities of shadows; the rest is unchanged light.
   *
   * @param weights of the shadows, in the order of the hypotheses
   */
  static ShadowMixture of(double... weights) {
    double sum = Arrays.stream(weights).sum();
    double[] all = Arrays.copyOf(weights, ShadowMixture.CLEAR + 1);
    all[ShadowMixture.CLEAR] = 1 - sum;
    double[] none = new double[all.length];
    return of(all, none, none, 0, sum);
  }

  /**
   * A mixture of all hypotheses.
   *
   * @param weights probability of each
   * @param offsets offset of its voltage error, V
   * @param slopes slope of its voltage error, V/A
   * @param uniform probability of a uniform change
   * @param shadow probability of any shadow
   */
  static ShadowMixture of(
      double[] weights, double[] offsets, double[] slopes, double uniform, double shadow) {
    ShadowMixture mixture = new ShadowMixture(0.2);
    mixture.read(
        WrittenState.reread(
            ShadowMixture.STATE_BYTES,
            bytes -> {
              for (double[] values : new double[][] {weights, offsets, slopes}) {
                for (double value : values) {
                  bytes.putFloat(value);
                }
              }
              bytes.put(uniform);
              bytes.put(shadow);
            }));
    return mixture;
  }
}
