package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** Probabilities of shadows against Bayes' rule and the balance of what comes and goes. */
class ShadowMixtureTest {

  private static final double SHARE = 0.2;
  private static final double VARIANCE = 0.04;
  private static final int CLEAR = ShadowMixture.CLEAR;
  private static final double SINGLE = 1e-6;

  private final ShadowMixture mixture = new ShadowMixture(SHARE);
  private final UniformLight veil = new UniformLight(0.01);
  private final float[] innovations = new float[CLEAR + 1];

  /** A reading that tells nothing: equal innovations, and the veil's likelihood the same. */
  private void tellNothing() {
    Arrays.fill(innovations, 0);
    mixture.update(innovations, VARIANCE, 0, 0, ShadowMixture.logLikelihood(0, VARIANCE));
  }

  @Test
  void itBeginsClearOrVeiledToEqualParts() {
    assertEquals(0.5, mixture.weight(CLEAR));
    assertEquals(0, mixture.shadowWeight());
    tellNothing();
    assertEquals(0.5, mixture.weight(CLEAR), SINGLE);
    assertEquals(0, mixture.shadowWeight(), 1e-9);
  }

  /**
   * In 0.3 s a share of 0.2 x 0.3 / 30 comes: 0.3 of it at any depth, 0.7 at the two shallowest.
   */
  @Test
  void shadowsComeMostlyShallow() {
    mixture.predict(0.3, 1, 1, veil);
    double coming = 0.2 * 0.3 / 30;
    double sum = 0;
    for (int j = 0; j < CLEAR; j++) {
      int depth = j % ShadowPeaks.DEPTHS;
      double part = (0.3 / 13 + (depth < 2 ? 0.35 : 0)) / 4;
      assertEquals(coming * part, mixture.weight(j), 1e-9, "hypothesis " + j);
      sum += mixture.weight(j);
    }
    assertEquals(coming, sum, 1e-8);
    assertEquals(0.5 * (1 - coming), mixture.weight(CLEAR), SINGLE, "veils come and go alike");
    tellNothing();
    assertEquals(coming, mixture.shadowWeight(), 1e-7);
  }

  /**
   * Within 3 s a shadow deepens by a step: a tenth of the difference in 0.3 s, one after another.
   */
  @Test
  void shadowsDeepen() {
    mixture.predict(0.3, 1, 1, veil);
    double[] before = new double[ShadowPeaks.DEPTHS];
    for (int d = 0; d < before.length; d++) {
      before[d] = mixture.weight(d);
    }
    mixture.predict(0.3, 1, 1, veil);
    double coming = 0.2 * 0.3 / 30;
    double comes = 1 - coming;
    double[] expected = before.clone();
    for (int d = 1; d < expected.length; d++) {
      double net = 0.1 * (expected[d - 1] - expected[d]);
      expected[d - 1] -= net;
      expected[d] += net;
    }
    for (int d = 0; d < expected.length; d++) {
      double part = (0.3 / 13 + (d < 2 ? 0.35 : 0)) / 4;
      double stays = 1 - 0.8 * 0.3 / 30;
      assertEquals(
          expected[d] * stays + coming * part * comes, mixture.weight(d), 1e-8, "depth " + d);
    }
  }

  /**
   * What comes and what goes balance at the stated share. All that goes leaves a clear sky: a veil,
   * which changes in 10 s and gives shadows in 30 s over their share, is 0.1 / (0.1 + 0.2 / 30) as
   * likely as that.
   */
  @Test
  void inTheLongRunTheSharesAreTheStatedOnes() {
    for (int i = 0; i < 3000; i++) {
      mixture.predict(0.2, 1, 1, veil);
      if (i % 50 == 0) {
        tellNothing();
      }
    }
    tellNothing();
    assertEquals(SHARE, mixture.shadowWeight(), 1e-3);
    assertEquals(0.8 / (1 + 0.1 / (0.1 + SHARE / 30)), mixture.weight(CLEAR), 1e-4);
  }

  /** Nothing is lost: a reading that tells nothing leaves every probability where it was. */
  @Test
  void probabilitiesAddUpToOne() {
    for (double seconds : new double[] {0.2, 5, 40}) {
      mixture.predict(seconds, 0.9, 0.99, veil);
      double[] before = new double[CLEAR + 1];
      for (int j = 0; j <= CLEAR; j++) {
        before[j] = mixture.weight(j);
      }
      tellNothing();
      for (int j = 0; j <= CLEAR; j++) {
        assertEquals(before[j], mixture.weight(j), 2e-6 * before[j], "hypothesis " + j);
      }
    }
  }

  @Test
  void readingsAreWeighedByBayesRule() {
    mixture.predict(5, 1, 1, veil);
    double[] prior = new double[CLEAR + 1];
    double veiled = 1;
    for (int j = 0; j <= CLEAR; j++) {
      prior[j] = mixture.weight(j);
      veiled -= prior[j];
      innovations[j] = (float) (0.3 * Math.sin(j));
    }
    double veilLog = ShadowMixture.logLikelihood(0.01, 0.09);
    double[] expected = new double[CLEAR + 1];
    double total = veiled * Math.exp(-0.5 * 0.01 / 0.09) / 0.3;
    for (int j = 0; j <= CLEAR; j++) {
      double y = innovations[j];
      expected[j] = prior[j] * Math.exp(-0.5 * y * y / VARIANCE) / 0.2;
      total += expected[j];
    }
    mixture.update(innovations, VARIANCE, 0.5, 0.25, veilLog);
    double shadows = 0;
    for (int j = 0; j <= CLEAR; j++) {
      assertEquals(expected[j] / total, mixture.weight(j), 1e-5 * expected[j] / total, "at " + j);
      shadows += j < CLEAR ? expected[j] / total : 0;
      // offset and slope of the error follow their gains
      assertEquals(0.5 * innovations[j] + 0.25 * 3 * innovations[j], mixture.expected(j, 3), 1e-5);
    }
    assertEquals(shadows, mixture.shadowWeight(), 1e-5);
  }

  /** Errors decay; what changes to clear from a veil brings the veil's error, here none. */
  @Test
  void errorsDecayAndMixWithTheWeights() {
    ShadowMixture never = new ShadowMixture(0);
    float[] y = new float[CLEAR + 1];
    y[CLEAR] = 0.02f;
    never.update(y, VARIANCE, 0.5, 0.25, ShadowMixture.logLikelihood(0.02 * 0.02, VARIANCE));
    assertEquals(0.5, never.weight(CLEAR), 1e-4);
    assertEquals(0, never.weight(0), "where no shadow ever is, none");
    never.predict(2, 0.9, 0.8, veil);
    // a fifth of the clear sky has been veiled before
    assertEquals(0.01 * 0.9 * 0.8, never.expected(CLEAR, 0), 1e-6);
    assertEquals(0.01 * 0.9 * 0.8 + 2 * 0.005 * 0.8 * 0.8, never.expected(CLEAR, 2), 1e-6);
  }

  @Test
  void aHypothesisIsNeverQuiteImpossible() {
    Arrays.fill(innovations, 90);
    innovations[CLEAR] = 0;
    mixture.predict(1, 1, 1, veil);
    mixture.update(innovations, VARIANCE, 0, 0, -1e9);
    assertEquals(1, mixture.weight(CLEAR), SINGLE);
    assertEquals(1e-12, mixture.weight(3), 1e-18);
    mixture.reset();
    assertEquals(0.5, mixture.weight(CLEAR));
    assertEquals(0, mixture.weight(3));
    assertEquals(0, mixture.shadowWeight());
    assertEquals(0, mixture.expected(3, 1));
  }

  @Test
  void aWrittenStateIsReadAndOneThatIsNoneIsNotHealthy() {
    mixture.predict(5, 1, 1, veil);
    Arrays.fill(innovations, 0.1f);
    mixture.update(innovations, VARIANCE, 0.5, 0.5, -3);
    assertTrue(mixture.healthy());
    ShadowMixture other = new ShadowMixture(SHARE);
    other.read(WrittenState.reread(ShadowMixture.STATE_BYTES, mixture::write));
    assertTrue(other.healthy());
    assertEquals(mixture.shadowWeight(), other.shadowWeight());
    for (int j = 0; j <= CLEAR; j++) {
      assertEquals(mixture.weight(j), other.weight(j));
      assertEquals(mixture.expected(j, 2), other.expected(j, 2));
    }
    int floats = 3 * (CLEAR + 1);
    for (int at = 0; at < floats + 2; at += at < floats - 40 ? 17 : 1) {
      for (double wrong : new double[] {Double.NaN, -1, 3}) {
        int place = at;
        other.read(
            WrittenState.reread(
                ShadowMixture.STATE_BYTES,
                bytes -> {
                  for (int i = 0; i < floats; i++) {
                    double right = i == CLEAR ? 0.5 : 0;
                    bytes.putFloat(i == place ? wrong : right);
                  }
                  bytes.put(floats == place ? wrong : 0.5);
                  bytes.put(floats + 1 == place ? wrong : 0);
                }));
        boolean error = place > CLEAR && place < floats;
        assertEquals(error && !Double.isNaN(wrong), other.healthy(), place + ": " + wrong);
      }
    }
    assertFalse(other.healthy());
  }
}
