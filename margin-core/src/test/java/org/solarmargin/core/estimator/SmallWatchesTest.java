package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.state.StateBytes;

/** The estimator's small watches, each against sums worked out by hand. */
class SmallWatchesTest {

  private static final double EXACT = 1e-12;
  private static final long MS = 1_000_000L;

  /** What was written is read by another, which then does the same. */
  private static StateBytes reread(java.util.function.Consumer<StateBytes> write) {
    return WrittenState.reread(8 * 8, write);
  }

  /** At 20 ms the window takes a tenth of each innovation; 5 sigmas count at most. */
  @Test
  void anEdgeShowsInInnovationsOfOneSign() {
    EdgeDetector edge = new EdgeDetector();
    assertEquals(0.02, edge.lightDrift());
    for (double innovation : new double[] {5, -5, 9, -9}) {
      edge.reset();
      edge.follow(0.02, innovation);
      // mean 0.5, squared over its variance (0.1 / 1.9): 4.75, of which 1.75 of 10 are an edge
      assertEquals(0.02 + 0.38 * 0.175, edge.lightDrift(), EXACT);
    }
    edge.follow(0.02, 0);
    assertEquals(0.02 + 0.38 * 0.175 * Math.exp(-0.02 / 0.28), edge.lightDrift(), EXACT);
    edge.follow(0.02, 9);
    // from -0.45 a tenth of the way to 5 is 0.095: calm
    assertEquals(0.02 + 0.38 * 0.175 * Math.exp(-0.04 / 0.28), edge.lightDrift(), EXACT);
  }

  @Test
  void anEdgeIsBoundedWhateverTheStep() {
    EdgeDetector edge = new EdgeDetector();
    edge.follow(7, 5);
    // at most half of an innovation: 2.5, squared over 0.5 / 1.5 is 18.75
    assertEquals(0.4, edge.lightDrift(), EXACT);
    edge.reset();
    edge.follow(7, 2.4);
    assertEquals(0.02 + 0.38 * (1.2 * 1.2 * 3 - 3) / 10, edge.lightDrift(), EXACT);
    edge.reset();
    for (int i = 0; i < 5; i++) {
      edge.follow(1e-9, 5);
    }
    double mean = 5 * (1 - Math.pow(0.995, 5));
    assertEquals(
        0.02 + 0.38 * (mean * mean * 1.995 / 0.005 - 3) / 10,
        edge.lightDrift(),
        1e-9,
        "at least a two-hundredth");
    EdgeDetector other = new EdgeDetector();
    other.read(reread(edge::write));
    assertEquals(edge.lightDrift(), other.lightDrift());
    edge.follow(0.02, 3);
    other.follow(0.02, 3);
    assertEquals(edge.lightDrift(), other.lightDrift());
    other.read(
        reread(
            out -> {
              out.put(0);
              out.put(7);
            }));
    assertEquals(0.4, other.lightDrift(), EXACT, "no edge beyond the whole");
  }

  /** In the air from 40 % of the hover throttle on until half a second below it. */
  @Test
  void takeOffAndLandingByTheThrottle() {
    AirborneWatch watch = new AirborneWatch(TestCraft.SETTINGS.rotor());
    watch.follow(0, 0.199);
    assertFalse(watch.airborne());
    watch.follow(100 * MS, 0.2);
    assertTrue(watch.airborne());
    assertEquals(0, watch.seconds());
    watch.follow(350 * MS, 0.5);
    assertEquals(0.25, watch.seconds(), EXACT);
    watch.follow(600 * MS, 0.1);
    watch.follow(850 * MS, 0.1);
    assertTrue(watch.airborne(), "half a second itself");
    watch.follow(850 * MS, 0.5);
    watch.follow(1350 * MS, 0.1);
    assertTrue(watch.airborne(), "the count began anew");
    watch.follow(1351 * MS, 0.1);
    assertFalse(watch.airborne());
    assertEquals(0, watch.seconds());
    watch.follow(1400 * MS, 0.5);
    watch.follow(1300 * MS, 0.5);
    assertEquals(0, watch.seconds(), "no time passes backward");
    watch.follow(1500 * MS, 0.5);
    assertEquals(0.2, watch.seconds(), EXACT);
    watch.resume(2000 * MS, true, 9);
    watch.follow(2500 * MS, 0.5);
    assertEquals(9.5, watch.seconds(), EXACT);
    watch.reset();
    assertFalse(watch.airborne());
    assertEquals(0, watch.seconds());
  }

  /** A second of 6 K after 3 s of 2 K: a departure of 4 K, a tenth of its square. */
  @Test
  void airThatMovesFarHasAWiderSigma() {
    CoolingWatch watch = new CoolingWatch();
    double first = 1.8 * 1.8;
    assertEquals(2.2 * 1.8 - 3, watch.excessKelvin(), EXACT, "not yet observed");
    watch.follow(1, 50);
    watch.follow(2, 2);
    assertEquals(2.2 * 1.8 - 3, watch.excessKelvin(), EXACT, "the mean follows at the start");
    watch.follow(1, 6);
    double square = first + 0.1 * (16 - first);
    assertEquals(2.2 * Math.sqrt(square) - 3, watch.excessKelvin(), EXACT);
    // the mean has come a sixtieth of the way, the square a tenth
    double mean = 2 + 4.0 / 60;
    square += 0.1 * ((7 - mean) * (7 - mean) - square);
    watch.follow(5, 7);
    assertEquals(2.2 * Math.sqrt(square) - 3, watch.excessKelvin(), EXACT, "a second at most");
    CoolingWatch other = new CoolingWatch();
    other.read(reread(watch::write));
    mean += (7 - mean) / 60;
    square += 0.05 * ((1 - mean) * (1 - mean) - square);
    watch.follow(0.5, 1);
    other.follow(0.5, 1);
    assertEquals(2.2 * Math.sqrt(square) - 3, watch.excessKelvin(), EXACT);
    assertEquals(watch.excessKelvin(), other.excessKelvin());
  }

  /** Numbers that a saved state cannot have had, under a valid checksum. */
  @ParameterizedTest
  @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, -1})
  void anImpossibleTimeOrSquareIsReadAsZero(double saved) {
    StateBytes reader =
        reread(
            out -> {
              out.put(saved);
              out.put(2);
              out.put(saved);
            });
    CoolingWatch watch = new CoolingWatch();
    watch.read(reader);
    assertEquals(0, watch.excessKelvin());
    watch.follow(3, 1);
    watch.follow(1, 5);
    double departure = 5 - 1;
    double expected = Math.max(2.2 * Math.sqrt(0.1 * departure * departure) - 3, 0);
    assertEquals(expected, watch.excessKelvin(), EXACT, "the time in the air began at 0");
  }

  @Test
  void theEstimateIsBiasedLowInRestlessAirOnly() {
    CoolingWatch watch = new CoolingWatch();
    assertEquals(0, watch.biasSigmas());
    for (int i = 0; i < 200; i++) {
      watch.follow(1, 7);
    }
    assertEquals(0, watch.excessKelvin(), "steady air");
    for (int i = 0; i < 50; i++) {
      watch.follow(1, 40 * (i % 2));
    }
    assertEquals(7, watch.excessKelvin(), EXACT, "ten kelvin at most");
    assertEquals(0.5, watch.biasSigmas(), EXACT, "a tenth per kelvin beyond two");
    watch.reset();
    assertEquals(0, watch.biasSigmas());
  }

  @Test
  void aThermometerThatDisagreesIsLeftOutUntilItHasAgreedForTenSeconds() {
    Thermometer watch = new Thermometer();
    assertTrue(watch.takes(1, 6, 3), "6 squared over 4 is 9, the limit itself");
    assertFalse(watch.leftOut());
    // half of the way to 6.2
    assertFalse(watch.takes(1, 6.2, 3));
    assertTrue(watch.leftOut());
    // 6.1 K; a share of 1 takes the new one whole: 4 K squared over 4 is 4, the limit itself
    assertFalse(watch.takes(2, 4, 3));
    for (int i = 0; i < 20; i++) {
      assertFalse(watch.takes(2, 4, 3), "not below the limit");
    }
    for (int i = 0; i < 4; i++) {
      assertFalse(watch.takes(2, 3.9, 3));
    }
    assertFalse(watch.takes(2, 4.1, 3), "the count begins anew");
    for (int i = 0; i < 4; i++) {
      assertFalse(watch.takes(2, 3.9, 3));
    }
    Thermometer other = new Thermometer();
    other.read(reread(watch::write));
    assertTrue(other.leftOut());
    assertTrue(watch.takes(2, 3.9, 3), "ten seconds");
    assertTrue(other.takes(2, 3.9, 3));
    assertFalse(other.leftOut());
    assertFalse(watch.takes(1, 8.0, 3), "a single one beyond 6 K");
    assertFalse(watch.leftOut(), "mean 5.95");
    assertFalse(watch.takes(1, 8.0, 3), "mean 6.975");
    assertTrue(watch.leftOut());
    watch.reset();
    assertFalse(watch.leftOut());
    assertTrue(watch.takes(1, 5, 3));
    double[] x = new double[State.SIZE];
    x[State.CELL] = 40;
    x[State.THERMOMETER_OFFSET] = -3;
    assertEquals(37, Thermometer.expected(x));
  }

  /** A kelvin squared that stays for two seconds. */
  @Test
  void aThermometersErrorCountsOnceInTwoSeconds() {
    assertEquals(1, Thermometer.noise(2));
    assertEquals(1, Thermometer.noise(5));
    assertEquals(100, Thermometer.noise(0.02), EXACT);
    assertEquals(2000, Thermometer.noise(0), EXACT);
  }

  @Test
  void instrumentsFollowTheStateByASecond() {
    Instruments instruments = new Instruments();
    double[] x = new double[State.SIZE];
    x[State.LIGHT] = 0.1;
    x[State.EMF] = 10;
    instruments.restart(x);
    assertEquals(0, instruments.lightShift(x));
    assertEquals(0, instruments.emfShift(x));
    x[State.LIGHT] = 0.3;
    x[State.EMF] = 12;
    instruments.relax(x, 0.25, 1, 20, 0.5);
    // a quarter of 0.2 and of 2 V; then half of the way to 20 V
    assertEquals(0.15 - 0.3, instruments.lightShift(x), EXACT);
    assertEquals(15.25 - 12, instruments.emfShift(x), EXACT);
    Instruments other = new Instruments();
    other.read(reread(instruments::write));
    assertEquals(instruments.lightShift(x), other.lightShift(x));
    assertEquals(instruments.emfShift(x), other.emfShift(x));
    // at an edge of 1.5 times the calm drift, 2.25 times as fast
    instruments.relax(x, 0.25, 1.5, 20, 1);
    assertEquals(0.15 * (0.5625 - 1), instruments.lightShift(x), EXACT);
    instruments.relax(x, 0.25, 9, 20, 1);
    assertEquals(0, instruments.lightShift(x), EXACT, "no further than the state");
    instruments.relax(x, 5, 1, 20, 1);
    assertEquals(0, instruments.emfShift(x), EXACT);
  }

  /** A second's memory: a share of 1 - exp(-0.02) at 50 samples a second. */
  @Test
  void eightOutliersWithinASecondAreABurst() {
    OutlierWatch watch = new OutlierWatch();
    assertTrue(watch.quiet());
    for (int i = 1; i <= 9; i++) {
      assertFalse(watch.follow(0.02, true));
      // 1 - exp(-0.02 n) exceeds 0.15 from 9 on
      assertEquals(i >= 9, watch.burst(), "after " + i);
    }
    assertFalse(watch.quiet());
    double share = 1 - Math.exp(-0.18);
    int good = 0;
    boolean ended = false;
    while (!ended && good < 1000) {
      good++;
      ended = watch.follow(0.02, false);
      share *= Math.exp(-0.02);
      assertEquals(share < 0.02, ended, "after " + good);
    }
    assertFalse(watch.burst());
    assertFalse(watch.quiet());
    for (int i = 0; i < 200; i++) {
      assertFalse(watch.follow(0.02, false));
      share *= Math.exp(-0.02);
      assertEquals(share < 0.005, watch.quiet());
    }
  }

  @Test
  void atSlowRatesEightOutliersAreNeededToo() {
    OutlierWatch watch = new OutlierWatch();
    for (int i = 1; i <= 8; i++) {
      assertFalse(watch.follow(1, true));
      assertEquals(i >= 8, watch.burst(), "after " + i);
    }
    for (int i = 0; i < 10; i++) {
      assertFalse(watch.follow(1, true), "ten seconds themselves");
    }
    assertTrue(watch.follow(1, true), "given up");
    assertFalse(watch.burst());
    for (int i = 1; i <= 7; i++) {
      watch.follow(1, true);
      assertFalse(watch.burst(), "counted anew");
    }
    watch.follow(1, true);
    assertTrue(watch.burst());
    watch.reset();
    assertFalse(watch.burst());
    assertTrue(watch.quiet());
    for (int i = 1; i <= 7; i++) {
      watch.follow(1, true);
    }
    assertFalse(watch.burst());
  }

  @Test
  void aStateIsKeptEveryThreeSeconds() {
    Checkpoint checkpoint = new Checkpoint();
    assertFalse(checkpoint.kept());
    assertTrue(checkpoint.due(0), "the first at once");
    byte[] room = checkpoint.keep(7);
    assertTrue(checkpoint.kept());
    assertEquals(7, checkpoint.nanos());
    assertTrue(room == checkpoint.state());
    assertEquals(MarginEstimator.STATE_BYTES, room.length);
    assertFalse(checkpoint.due(1));
    assertFalse(checkpoint.due(1.5));
    assertTrue(checkpoint.due(0.5));
    checkpoint.reset();
    assertFalse(checkpoint.kept());
    assertTrue(checkpoint.due(0));
  }

  @Test
  void theIncrementalExponentialIsTheExponential() {
    IncrementalExponential exponential = new IncrementalExponential();
    assertEquals(Math.exp(0.7), exponential.of(0.7));
    double exponent = 0.7;
    for (int i = 0; i < 100; i++) {
      exponent += i % 3 == 0 ? -0.000_99 : 0.000_8;
      double value = exponential.of(exponent);
      assertEquals(1, value / Math.exp(exponent), 100 * 5e-14);
      assertEquals(value, exponential.value());
    }
    assertEquals(Math.exp(exponent + 0.001_01), exponential.of(exponent + 0.001_01));
    exponential.of(0.5);
    exponential.forget();
    assertEquals(Math.exp(0.500_1), exponential.of(0.500_1), "afresh");
  }
}
