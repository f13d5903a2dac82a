package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.state.StateBytes;
import org.solarmargin.core.timing.TimeModel;

/** Even light of some seconds, what is said of it, and the saved state. */
class UnevenLightTest {

  private final AlignedFilter aligned =
      new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
  private final UnevenLight uneven = new UnevenLight(TestCraft.SETTINGS);
  private final TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);

  private void fly(double from, double to) {
    while (flight.seconds < to) {
      flight.next();
      long nanos = Math.round(flight.seconds * 1e9);
      aligned.command(nanos, flight.throttle);
      aligned.reading(nanos, flight.busVolts, flight.busAmps, Double.NaN);
      aligned.predict();
      aligned.filter().setAirborne(true, flight.seconds);
      aligned.correct(false);
      if (flight.seconds > from) {
        uneven.follow(0.02, aligned.sample(), 0, aligned.filter());
      }
    }
  }

  private static StateBytes written(UnevenLight uneven) {
    return WrittenState.reread(UnevenLight.STATE_BYTES, uneven::write);
  }

  @Test
  void nothingIsTakenBeforeTheFirstSample() {
    ShadowFactors factors = uneven.factors(150, 0.03, 0.99, 0.95);
    assertEquals(1, factors.estimate());
    assertEquals(1, factors.bound());
    assertEquals(1, factors.alertBound());
    assertEquals(1, factors.ceilingBound());
    assertEquals(0, uneven.probability());
    assertEquals(0, uneven.claimed());
  }

  @Test
  void evenLightOfSomeSecondsHasLittleProbabilityOfShadows() {
    fly(6, 12);
    double probability = uneven.probability();
    assertTrue(probability > 0 && probability < 0.3, "probability " + probability);
    // a twentieth of the odds
    double odds = 0.05 * probability / (1 - probability);
    assertEquals(odds / (1 + odds), uneven.claimed(), 1e-12);
    ShadowFactors factors = uneven.factors(150, 0.03, 0.99, 0.95);
    assertTrue(factors.healthy());
    for (double factor :
        new double[] {
          factors.estimate(), factors.bound(), factors.alertBound(), factors.ceilingBound()
        }) {
      assertTrue(factor > 0.3 && factor <= 1, "factor " + factor);
    }
    assertSame(factors, uneven.factors(1, 1, 1, 1), "computed once for each move");
    assertTrue(factors.bound() > 0.3);
    uneven.reset();
    assertEquals(0, uneven.probability());
    assertEquals(1, uneven.factors(150, 0.03, 0.99, 0.95).bound());
  }

  /** A few cells in the shadow take 2 V where the current is high: simulated as a lower voltage. */
  @Test
  void voltageMissingAtHighCurrentsAloneIsAShadow() {
    fly(6, 9);
    double even = uneven.probability();
    for (int i = 0; i < 60; i++) {
      aligned.sample().volts -= 2;
      uneven.follow(0.1, aligned.sample(), 0, aligned.filter());
      aligned.sample().volts += 2;
      uneven.follow(0.1, aligned.sample(), 0, aligned.filter());
    }
    assertNotEquals(even, uneven.probability());
    assertTrue(uneven.probability() <= 1);
  }

  @Test
  void aWrittenStateGoesOnAsTheWholeOne() {
    fly(6, 9);
    uneven.factors(150, 0.03, 0.99, 0.95);
    UnevenLight other = new UnevenLight(TestCraft.SETTINGS);
    other.read(written(uneven));
    assertEquals(uneven.probability(), other.probability());
    for (int i = 0; i < 20; i++) {
      uneven.follow(0.05, aligned.sample(), 0, aligned.filter());
      other.follow(0.05, aligned.sample(), 0, aligned.filter());
      assertEquals(uneven.probability(), other.probability(), "step " + i);
      assertEquals(
          uneven.factors(150, 0.03, 0.99, 0.95).bound(),
          other.factors(150, 0.03, 0.99, 0.95).bound());
    }
  }

  @Test
  void aStateThatIsNoneBeginsAnew() {
    byte[] room = new byte[UnevenLight.STATE_BYTES + StateBytes.TAIL];
    java.util.Arrays.fill(room, (byte) 0x7f);
    uneven.read(WrittenState.reader(room));
    assertEquals(0, uneven.probability());
    assertEquals(1, uneven.factors(150, 0.03, 0.99, 0.95).estimate());
  }

  /** Readings that lack one channel tell nothing. */
  @Test
  void aSampleNeedsBothReadings() {
    fly(6, 7);
    double before = uneven.probability();
    aligned.sample().hasAmps = false;
    uneven.follow(5, aligned.sample(), 0, aligned.filter());
    aligned.sample().hasAmps = true;
    aligned.sample().hasVolts = false;
    uneven.follow(5, aligned.sample(), 0, aligned.filter());
    assertEquals(before, uneven.probability());
    aligned.sample().hasVolts = true;
    uneven.follow(5, aligned.sample(), 0, aligned.filter());
    assertNotEquals(before, uneven.probability());
  }

  @Test
  void figuresThatAreNoneTakeNothing() {
    fly(6, 9);
    ShadowFactors factors = uneven.factors(150, 0.03, 0.99, 0.95);
    assertTrue(factors.healthy());
    double[][] none = {
      {0, 0.03, 0.99, 0.95},
      {150, 0, 0.99, 0.95},
      {150, 0.03, 0, 0.95},
      {150, 0.03, 0.99, 0},
      {Double.NaN, 0.03, 0.99, 0.95},
      {150, Double.NaN, 0.99, 0.95}
    };
    for (double[] f : none) {
      uneven.follow(0.2, aligned.sample(), 0, aligned.filter());
      uneven.factors(f[0], f[1], f[2], f[3]);
      assertEquals(1, factors.estimate());
      assertEquals(1, factors.bound());
      assertEquals(1, factors.alertBound());
      assertEquals(1, factors.ceilingBound());
    }
    for (int at = 0; at < 4; at++) {
      for (double wrong : new double[] {Double.NaN, 0, -0.1, 1.001}) {
        double[] saved = {1, 1, 1, 1};
        saved[at] = wrong;
        factors.read(WrittenState.reread(4 * 8, bytes -> bytes.putAll(saved)));
        assertEquals(false, factors.healthy(), at + ": " + wrong);
      }
    }
  }
}
