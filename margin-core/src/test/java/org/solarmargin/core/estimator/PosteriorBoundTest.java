package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The filter compared with the Cramer-Rao bound, on flights drawn from its own model. */
class PosteriorBoundTest {

  private static final int FLIGHTS = 16;
  private static final double SECONDS = 40;

  /** Design goal for flights whose cells and sensors are known. */
  private static final double RATIO = 1.3;

  /**
   * Allowed increase of sigma by a known filter of 0.2 s and rounding to 0.01 V and 0.01 A: 20 %.
   */
  private static final double LOST_TO_FILTER = 1.2;

  /** Statistical scatter of a ratio with so few flights. */
  private static final double SCATTER = 0.15;

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2})
  void matchedFlightsComeCloseToTheBound(int family) {
    PosteriorBound.Result r = measure(PosteriorBound.matched(), family);
    double ratio = r.filter() / r.free();
    assertTrue(ratio < RATIO + SCATTER, () -> r.name() + " rms over bound " + ratio);
    assertTrue(ratio > 1 - SCATTER, () -> r.name() + " better than any estimator: " + ratio);
    assertTrue(r.averaged() < r.free() * (1 + SCATTER), "the averaged bound is the looser one");
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2})
  void withUncertainConstantsTheFilterReachesSchmidtsForm(int family) {
    PosteriorBound.Result r = measure(TestCraft.SETTINGS, family);
    double ratio = r.filter() / r.schmidt();
    assertTrue(ratio < RATIO, () -> r.name() + " rms over Schmidt's form " + ratio);
    assertEquals(1, r.filter() / r.stated(), 0.3, "its sigma is consistent with its error");
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2})
  void aKnownFilterLosesLittleInformation(int family) {
    PosteriorBound.Result r = measure(PosteriorBound.filtered(PosteriorBound.matched()), family);
    double lost = r.behind() / r.free();
    assertTrue(lost > 1 && lost < LOST_TO_FILTER, () -> r.name() + " lost to the filter: " + lost);
    double ratio = r.filter() / r.behind();
    assertTrue(ratio < RATIO + SCATTER, () -> r.name() + " rms over bound " + ratio);
    assertTrue(ratio > 1 - SCATTER, () -> r.name() + " better than any estimator: " + ratio);
  }

  /**
   * Readings at 8 Hz contain a sixth of those at 50 Hz; between them only the throttle is known.
   */
  @ParameterizedTest
  @ValueSource(ints = {0, 2})
  void heldReadingsComeCloseToTheirBound(int family) {
    PosteriorBound.Result r = measure(PosteriorBound.held(PosteriorBound.matched(), 6), family);
    double lost = r.behind() / r.free();
    assertTrue(lost > 1.3 && lost < Math.sqrt(6), () -> r.name() + " lost by holding: " + lost);
    double ratio = r.filter() / r.behind();
    assertTrue(ratio < RATIO, () -> r.name() + " rms over bound " + ratio);
    assertTrue(ratio > 1 - SCATTER, () -> r.name() + " better than any estimator: " + ratio);
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 1, 2})
  void innovationsAreAsLargeAsExpected(int family) {
    PosteriorBound.Result r = measure(PosteriorBound.matched(), family);
    assertEquals(2, r.normalisedInnovation(), 0.3, r.name());
  }

  private static PosteriorBound.Result measure(EstimatorSettings settings, int family) {
    return PosteriorBound.measure(
        settings, PosteriorBound.FAMILIES.get(family), FLIGHTS, SECONDS, 500);
  }
}
