package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.state.StateBytes;

/** Single steps against {@link ShadowModel}: strings of single diodes and matrices. */
class UnevenLightStepsTest {

  private final UnevenLightRig rig = new UnevenLightRig();
  private final Random random = new Random(3);

  private void compare(String when) {
    byte[] room = UnevenLightRig.written(rig.uneven);
    StateBytes in = WrittenState.reader(room);
    ShadowMixture mixture = new ShadowMixture(UnevenLightRig.SETTINGS.shadowShare());
    mixture.read(in);
    new ShadowFactors(UnevenLightRig.SETTINGS.shadowShare(), new float[ShadowDistribution.NUMBERS])
        .read(in);
    UniformLight uniform = new UniformLight(1);
    uniform.read(in);
    near(rig.model.covariance.getEntry(0, 0), in.get(), when + ": offset variance");
    near(rig.model.covariance.getEntry(1, 1), in.get(), when + ": slope variance");
    assertEquals(rig.model.covariance.getEntry(0, 1), in.get(), 1e-7, when + ": their covariance");
    near(rig.model.statedSlope, in.get(), when + ": stated slope variance");
    near(rig.model.middleAmps, in.get(), when + ": middle current");
    assertEquals(rig.model.since, in.get(), 1e-12, when);
    assertEquals(rig.model.sincePrediction, in.get(), 1e-12, when);
    assertEquals(rig.model.started ? 1 : 0, in.get(), when);
    near(rig.model.referenceLight, in.get(), when + ": light");
    near(rig.model.referenceCelsius, in.get(), when + ": temperature");
    assertEquals(rig.model.uniform.depth(), uniform.depth(), 2e-5, when + ": depth");
    assertEquals(rig.model.uniform.offset(), uniform.offset(), 2e-5, when + ": offset");
    assertEquals(rig.model.uniform.slope(), uniform.slope(), 2e-5, when + ": slope");
    for (int j = 0; j <= ShadowMixture.CLEAR; j++) {
      double weight = rig.model.mixture.weight(j);
      assertEquals(weight, mixture.weight(j), 1e-3 * weight + 1e-9, when + ": weight " + j);
      if (weight > 1e-6) {
        assertEquals(
            rig.model.mixture.expected(j, 0.1), mixture.expected(j, 0.1), 1e-4, when + " " + j);
      }
    }
    assertEquals(rig.model.mixture.shadowWeight(), rig.uneven.probability(), 1e-4, when);
  }

  private static void near(double expected, double actual, String what) {
    assertEquals(expected, actual, 1e-5 * Math.abs(expected), what);
  }

  @Test
  void thirtySecondsOfLightThatChangesAreThoseOfTheModel() {
    double[] steps = {0.1, 0.03, 0.03, 0.03, 0.03, 0.25, 0.1, 0.7, 0.1, 0.1, 1.7, 0.1, 0.2};
    compare("before the first sample");
    double light = Math.log(0.9);
    double celsius = 48;
    for (int i = 0; i < 120; i++) {
      light += 0.02 * random.nextGaussian();
      celsius += 0.3 * random.nextGaussian();
      rig.setState(State.LIGHT, light);
      rig.setState(State.CELL, celsius);
      rig.read(0.55 + 0.3 * random.nextDouble(), 0, 1, 0.1 * random.nextGaussian());
      rig.step(steps[i % steps.length], 0.02 * (i % 3));
      compare("sample " + i);
    }
    assertTrue(rig.uneven.probability() < 0.5, "even light");
  }

  @Test
  void aShadowOnEightCellsIsThatOfTheModel() {
    for (int i = 0; i < 120; i++) {
      boolean dim = i > 20;
      rig.read(0.6 + 0.197 * random.nextDouble(), dim ? 8 : 0, 0.8, 0.02 * random.nextGaussian());
      rig.step(0.1, 0);
      compare("sample " + i);
    }
    assertTrue(rig.uneven.probability() > 0.9, "probability " + rig.uneven.probability());
  }

  @Test
  void aUniformFallOfTheLightIsThatOfTheModel() {
    for (int i = 0; i < 40; i++) {
      boolean veiled = i > 20;
      rig.read(veiled ? 0.6 : 0.8, veiled ? 40 : 0, 0.8, 0.02 * random.nextGaussian());
      rig.step(0.1, 0);
      compare("sample " + i);
    }
    assertTrue(rig.model.uniform.depth() < -0.02, "depth " + rig.model.uniform.depth());
    rig.read(0.995, 0, 1, 0);
    rig.step(0.1, 0);
    compare("close to the photocurrent");
  }

  /** At the photocurrent the unchanged curve has no voltage left but that of the resistance. */
  @Test
  void currentsAboveThePhotocurrentAreThoseOfItsEnd() {
    rig.read(0.7, 0, 1, 0);
    rig.step(0.1, 0);
    double photo = rig.model.curve().photocurrentAmps();
    double volts = 3;
    rig.sample.volts = 1.01 * volts;
    rig.sample.amps = 2 * 1.1 * photo * 0.98 + 0.1;
    double[] before = rig.ownNumbers();
    rig.uneven.follow(0.1, rig.sample, 0, rig.filter);
    double beside = 0.4 * photo;
    double perAmp =
        40 * (rig.model.curve().thermalVolts() / (0.001 * photo) + rig.model.curve().seriesOhms());
    double noise = 4 * (5e-4 + 1e-6 + 0.25 * perAmp * perAmp * 3e-3);
    double keep = Math.exp(-0.2 / 60);
    double keepSlope = Math.exp(-0.2 / 600);
    double level = Math.pow(0.0033 * 40, 2);
    double offset = keep * keep * before[0] + (1 - keep * keep) * level;
    double slope = keepSlope * keepSlope * before[1] + (1 - keepSlope * keepSlope) * before[3];
    double cross = keep * keepSlope * before[2];
    double toOffset = offset + beside * cross;
    double toSlope = cross + beside * slope;
    double variance = toOffset + beside * toSlope + noise;
    double[] after = rig.ownNumbers();
    assertEquals(offset - toOffset * toOffset / variance, after[0], 1e-9);
    assertEquals(slope - toSlope * toSlope / variance, after[1], 1e-9);
    double atPhoto = 40 * -photo * rig.model.curve().seriesOhms();
    StateBytes in = WrittenState.reader(UnevenLightRig.written(rig.uneven));
    ShadowMixture mixture = new ShadowMixture(UnevenLightRig.SETTINGS.shadowShare());
    mixture.read(in);
    double y = volts - atPhoto - rig.model.mixture.expected(ShadowMixture.CLEAR, beside);
    double gained = toOffset / variance * y + toSlope / variance * y * 0.1;
    double was = rig.model.mixture.expected(ShadowMixture.CLEAR, 0.1);
    assertEquals(was + gained, mixture.expected(ShadowMixture.CLEAR, 0.1), 1e-3 * Math.abs(gained));
  }

  /** Time updates are due after 0.15 s, and then the factors are computed anew. */
  @Test
  void factorsAreThoseOfTheMixtureAfterEachTimeUpdate() {
    for (int i = 0; i < 30; i++) {
      rig.read(0.55 + 0.3 * random.nextDouble(), 0, 1, 0.1 * random.nextGaussian());
      double before = rig.uneven.factors(200, 0.04, 0.98, 0.9).bound();
      rig.step(0.1, 0);
      assertTrue(rig.uneven.probability() < 0.1, "shadows are unlikely");
      ShadowFactors factors = rig.uneven.factors(200, 0.04, 0.98, 0.9);
      if (rig.model.predicted) {
        compareFactors(factors);
      } else {
        assertEquals(before, factors.bound(), "no time update");
      }
    }
  }

  @Test
  void factorsOfLikelyShadowsAreComputedAtEachUpdate() {
    for (int i = 0; i < 60; i++) {
      rig.read(0.6 + 0.19 * random.nextDouble(), i > 20 ? 8 : 0, 0.8, 0.02 * random.nextGaussian());
      rig.step(0.1, 0);
      boolean likely = rig.uneven.probability() > 0.1;
      if (likely || rig.model.predicted) {
        compareFactors(rig.uneven.factors(200, 0.04, 0.98, 0.9));
      }
    }
    assertTrue(rig.uneven.probability() > 0.1);
  }

  private void compareFactors(ShadowFactors factors) {
    ShadowPeaks peaks = new ShadowPeaks(UnevenLightRig.SETTINGS.newArray());
    peaks.take(rig.model.curve());
    ShadowFactors expected =
        new ShadowFactors(
            UnevenLightRig.SETTINGS.shadowShare(), new float[ShadowDistribution.NUMBERS]);
    expected.take(rig.model.mixture, peaks, 200, 0.04, 0.98, 0.9);
    assertEquals(expected.bound(), factors.bound(), 1e-4);
    assertEquals(expected.estimate(), factors.estimate(), 1e-4);
    assertEquals(expected.ceilingBound(), factors.ceilingBound(), 1e-4);
  }

  /** At exactly 0.15 s no time update is due yet. */
  @Test
  void aTimeUpdateIsDueAfterMoreThanFifteenHundredths() {
    rig.read(0.7, 0, 1, 0);
    rig.uneven.follow(0.2 - 0.5 * 0.1, rig.sample, 0, rig.filter);
    assertEquals(0.15, rig.ownNumbers()[6], 1e-12);
    rig.uneven.follow(0.1, rig.sample, 0, rig.filter);
    assertEquals(0, rig.ownNumbers()[6]);
  }
}
