package org.solarmargin.core.estimator;

import java.util.Arrays;
import org.solarmargin.core.state.StateBytes;

/** Mixtures with given probabilities, for tests of their users. */
final class Mixtures {

  private Mixtures() {}

  /**
   * A mixture with these probabilities of shadows; the rest is unchanged light.
   *
   * @param weights of the shadows, in the order of the hypotheses
   */
  static ShadowMixture of(double... weights) {
    int length = ShadowMixture.STATE_BYTES + StateBytes.TAIL;
    byte[] room = new byte[length];
    StateBytes bytes = new StateBytes(length);
    bytes.startWriting(room, 0);
    double sum = Arrays.stream(weights).sum();
    for (int j = 0; j < ShadowMixture.CLEAR; j++) {
      bytes.putFloat(j < weights.length ? weights[j] : 0);
    }
    bytes.putFloat(1 - sum);
    for (int j = 0; j < 2 * (ShadowMixture.CLEAR + 1); j++) {
      bytes.putFloat(0);
    }
    bytes.put(0);
    bytes.put(sum);
    bytes.finishWriting();
    bytes.startReading(room, 0);
    ShadowMixture mixture = new ShadowMixture(0.2);
    mixture.read(bytes);
    return mixture;
  }
}
