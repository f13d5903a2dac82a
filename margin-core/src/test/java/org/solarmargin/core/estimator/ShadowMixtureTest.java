package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.array.SolarArray;

/** Probabilities of shadows against Bayes' rule and the balance of what comes and goes. */
class ShadowMixtureTest {

  private static final double SHARE = 0.2;
  private static final double VARIANCE = 0.04;
  private static final int CLEAR = ShadowMixture.CLEAR;
  private static final double SINGLE = 1e-6;

  private final ShadowMixture mixture = new ShadowMixture(SHARE);
  private final UniformLight veil = new UniformLight(0.01);
  private final SolarArray array = TestCraft.SETTINGS.newArray();
  private final VoltageResidual reading = new VoltageResidual();
  private final float[] logs = new float[CLEAR + 1];

  ShadowMixtureTest() {
    array.set(0.9, 45);
  }

  /**
   * Takes a reading.
   *
   * @param part of the photocurrent
   * @param residual from the unchanged curve, V
   * @param variance of the voltage, V squared
   */
  private void read(double part, double residual, double variance) {
    double amps = part * array.curve().photocurrentAmps();
    double volts = array.seriesCells() * array.curve().voltsAt(amps) + residual;
    reading.take(array, volts, amps, variance, 0, 1);
  }

  /** A reading that tells nothing: its noise is large, and the veil's likelihood the same. */
  private void tellNothing() {
    read(0.5, 0, 1e12);
    mixture.update(reading, 0, 0, reading.logLikelihood(0, 1e12), logs);
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
      double part = (0.3 / 13 + (depth < 2 ? 0.35 : 0)) / 3;
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
      double part = (0.3 / 13 + (d < 2 ? 0.35 : 0)) / 3;
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

  /** Each hypothesis has its innovation and its variance; a reading is a quarter of one. */
  @Test
  void readingsAreWeighedByBayesRule() {
    mixture.predict(5, 1, 1, veil);
    double photo = array.curve().photocurrentAmps();
    double volts = array.seriesCells() * array.curve().voltsAt(0.7 * photo) - 0.3;
    reading.take(array, volts, 0.7 * photo, VARIANCE, 0.002, 4);
    reading.setSlowError(3, 0.01);
    double veilLog = VoltageResidual.logLikelihood(0.1, 0.09, 0.25);
    double[] expected = new double[CLEAR + 1];
    double veiled = 1;
    double total = 0;
    for (int j = 0; j <= CLEAR; j++) {
      double y = reading.residual(j);
      double likelihood = Math.exp(-0.5 * y * y / reading.variance(j));
      expected[j] = mixture.weight(j) * likelihood / Math.pow(reading.variance(j), 0.125);
      veiled -= mixture.weight(j);
      total += expected[j];
    }
    total += veiled * Math.exp(-0.5 * 0.01 / 0.09) / Math.pow(0.09, 0.125);
    mixture.update(reading, 0.02, 0.01, veilLog, logs);
    double shadows = 0;
    for (int j = 0; j <= CLEAR; j++) {
      double weight = expected[j] / total;
      assertEquals(weight, mixture.weight(j), 1e-5 * weight + 2e-12, "at " + j);
      shadows += j < CLEAR ? weight : 0;
      // offset and slope of the error follow their gains, with innovations of 5 sigmas at most
      double most = 5 * Math.sqrt(reading.variance(j));
      double y = Math.max(-most, Math.min(reading.residual(j), most));
      double gained = (0.02 + 3 * 0.01) * y / reading.variance(j);
      assertEquals(gained, mixture.expected(j, 3), 1e-6 * Math.abs(gained) + 1e-6);
    }
    assertEquals(shadows, mixture.shadowWeight(), 1e-5);
    assertEquals(1 - shadows - mixture.weight(CLEAR), mixture.uniformWeight(), 1e-5);
  }

  /** Errors decay; what changes to clear from a veil brings the veil's error, here none. */
  @Test
  void errorsDecayAndMixWithTheWeights() {
    ShadowMixture never = new ShadowMixture(0);
    read(0.5, 0.02, VARIANCE);
    double log = reading.logLikelihood(0.02, VARIANCE);
    never.update(reading, 0.5 * VARIANCE, 0.25 * VARIANCE, log, logs);
    assertEquals(0.5, never.weight(CLEAR), 1e-4);
    assertEquals(0, never.weight(0), "where no shadow ever is, none");
    never.predict(2, 0.9, 0.8, veil);
    // a fifth of the clear sky has been veiled before
    assertEquals(0.01 * 0.9 * 0.8, never.expected(CLEAR, 0), 1e-6);
    assertEquals(0.01 * 0.9 * 0.8 + 2 * 0.005 * 0.8 * 0.8, never.expected(CLEAR, 2), 1e-6);
  }

  @Test
  void aHypothesisIsNeverQuiteImpossible() {
    mixture.predict(1, 1, 1, veil);
    // more than any dim cells would deliver
    read(0.97, 0, 1e-4);
    mixture.update(reading, 0, 0, -1e9, logs);
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
    read(0.6, 0.1, VARIANCE);
    mixture.update(reading, 0.5 * VARIANCE, 0.5 * VARIANCE, -3, logs);
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
