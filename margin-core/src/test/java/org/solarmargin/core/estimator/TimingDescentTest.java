package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.solarmargin.core.estimator.TimingPoint.AMPS;
import static org.solarmargin.core.estimator.TimingPoint.AMPS_DELAY;
import static org.solarmargin.core.estimator.TimingPoint.COMMAND_DELAY;
import static org.solarmargin.core.estimator.TimingPoint.COMMAND_LAG;
import static org.solarmargin.core.estimator.TimingPoint.PARAMETERS;
import static org.solarmargin.core.estimator.TimingPoint.READOUT;
import static org.solarmargin.core.estimator.TimingPoint.VOLTS;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The descent on known functions, and its trials one by one. */
class TimingDescentTest {

  /** An interval without a rounding error; the delay between the channels moves by all of it. */
  private static final double INTERVAL = 1.0 / 64;

  private final TimingDescent descent = new TimingDescent();
  private final TimingPoint best = new TimingPoint();
  private final TimingPoint trial = new TimingPoint();

  /** In the middle of all ranges. */
  @BeforeEach
  void begin() {
    best.setFilters(0.2);
    best.setSeconds(COMMAND_LAG, 0.1);
    best.set(COMMAND_DELAY, 0.25);
    best.set(AMPS_DELAY, 0.125);
    best.set(READOUT, 0);
  }

  /** By how much a trial differs from the best. */
  private double[] difference() {
    double[] difference = new double[PARAMETERS];
    for (int i = 0; i < PARAMETERS; i++) {
      difference[i] = trial.get(i) - best.get(i);
    }
    return difference;
  }

  private void assertMove(double by, int... parameters) {
    double[] expected = new double[PARAMETERS];
    for (int parameter : parameters) {
      expected[parameter] = by;
    }
    assertArrayEquals(expected, difference(), 1e-12);
  }

  private void next() {
    assertTrue(descent.next(false, best, trial));
  }

  /** One pass without success from its second trial on: forth and back with each parameter. */
  private void assertPass(double step, double commandDelay, double ampsDelay) {
    assertMove(step, VOLTS, AMPS);
    next();
    assertMove(-step, VOLTS, AMPS);
    int[] order = {READOUT, COMMAND_DELAY, AMPS_DELAY, VOLTS, AMPS, COMMAND_LAG};
    double[] by = {2 * step, commandDelay, ampsDelay, step, step, step};
    for (int i = 0; i < order.length; i++) {
      next();
      assertMove(by[i], order[i]);
      next();
      assertMove(-by[i], order[i]);
    }
  }

  /** Steps of 1/2, 1/4 and 1/8; delays of half and whole intervals, at first twice as many. */
  @Test
  void withoutSuccessTheStepIsHalvedTwice() {
    for (int i = 0; i < 2; i++) {
      descent.start(INTERVAL, best, trial);
      assertPass(0.5, INTERVAL, 2 * INTERVAL);
      next();
      assertPass(0.25, 0.5 * INTERVAL, INTERVAL);
      next();
      assertPass(0.125, 0.5 * INTERVAL, INTERVAL);
      assertFalse(descent.next(false, best, trial));
    }
  }

  @Test
  void aStepThatHelpsIsRepeatedAndAPassThatHelpsToo() {
    descent.start(INTERVAL, best, trial);
    best.copy(trial);
    assertTrue(descent.next(true, best, trial));
    assertPass(0.5, INTERVAL, 2 * INTERVAL);
    next();
    assertPass(0.5, INTERVAL, 2 * INTERVAL);
    next();
    assertPass(0.25, 0.5 * INTERVAL, INTERVAL);
  }

  @Test
  void theOtherDirectionIsRepeatedToo() {
    descent.start(INTERVAL, best, trial);
    next();
    best.copy(trial);
    assertTrue(descent.next(true, best, trial));
    assertMove(-0.5, VOLTS, AMPS);
    next();
    assertMove(1, READOUT);
  }

  /** Readings 0.1 s apart: a quarter of it, because whole intervals would be too coarse. */
  @ParameterizedTest
  @CsvSource({"0.1, 0.025", "0.06, 0.02", "0.025, 0.025", "0.02, 0.02"})
  void theDelayBetweenTheChannelsMovesByAFractionOfLongIntervals(double interval, double by) {
    descent.start(interval, best, trial);
    while (trial.get(AMPS_DELAY) == best.get(AMPS_DELAY)) {
      next();
    }
    assertMove(2 * by, AMPS_DELAY);
  }

  /** All trials of a descent without success, as differences from where it starts. */
  private List<double[]> trials() {
    List<double[]> trials = new ArrayList<>();
    descent.start(INTERVAL, best, trial);
    do {
      trials.add(difference());
    } while (descent.next(false, best, trial));
    return trials;
  }

  /** Number of trials that change these parameters and no others, by this much. */
  private int count(double by, int... parameters) {
    double[] expected = new double[PARAMETERS];
    for (int parameter : parameters) {
      expected[parameter] = by;
    }
    int count = 0;
    for (double[] difference : trials()) {
      boolean same = true;
      for (int i = 0; i < PARAMETERS; i++) {
        same &= Math.abs(difference[i] - expected[i]) < 1e-12;
      }
      count += same ? 1 : 0;
    }
    return count;
  }

  private boolean tries(double by, int... parameters) {
    return count(by, parameters) > 0;
  }

  @Test
  void nothingIsBelowNoFilterAndNoDelay() {
    best.setFilters(0);
    List<double[]> trials = trials();
    // forward both filters, noise, command, each filter and lag; the current is early or late
    assertEquals(3 * 8, trials.size());
    for (double[] difference : trials) {
      difference[AMPS_DELAY] = Math.abs(difference[AMPS_DELAY]);
      double sum = 0;
      for (double part : difference) {
        assertTrue(part >= 0);
        sum += part;
      }
      assertTrue(sum > 0);
    }
  }

  /** From 0.005 s to no filter the logarithm moves by ln(0.02 / 0.025), which is less than 1/4. */
  @Test
  void aStepBeyondNoFilterEndsThere() {
    best.setSeconds(VOLTS, 0.005);
    best.setSeconds(COMMAND_LAG, 0.005);
    best.set(READOUT, Math.log(0.04));
    assertTrue(tries(Math.log(0.8), VOLTS));
    assertTrue(tries(Math.log(0.8), COMMAND_LAG));
    assertTrue(tries(Math.log(0.75), READOUT));
    assertFalse(tries(-0.5, VOLTS));
  }

  @Test
  void bothFiltersMoveTogetherOrNotAtAll() {
    assertEquals(1, count(-0.5, VOLTS, AMPS));
    best.setSeconds(VOLTS, 0);
    assertEquals(0, count(-0.5, VOLTS, AMPS));
    assertEquals(1, count(-0.5, AMPS), "alone, but not in place of both");
    begin();
    best.setSeconds(AMPS, 0);
    assertEquals(1, count(-0.5, VOLTS));
    assertEquals(1, count(0.5, VOLTS, AMPS));
    // at the upper limit of one of them
    best.setSeconds(VOLTS, 3);
    assertEquals(0, count(0.5, VOLTS, AMPS));
    assertEquals(1, count(0.5, AMPS));
  }

  /** The upper limits: 3 s, a lag of 0.3 s, five times the noise, delays of half a second. */
  @Test
  void limitsThemselvesAreTried() {
    best.set(VOLTS, Math.log(3.02) - 0.5);
    best.set(COMMAND_LAG, Math.log(0.3 + 0.02) - 0.5);
    best.set(READOUT, Math.log(5) - 1);
    best.set(COMMAND_DELAY, 0.5 - INTERVAL);
    best.set(AMPS_DELAY, 0.5 - 2 * INTERVAL);
    assertTrue(tries(0.5, VOLTS));
    assertTrue(tries(0.5, COMMAND_LAG));
    assertTrue(tries(1, READOUT));
    assertTrue(tries(INTERVAL, COMMAND_DELAY));
    assertTrue(tries(2 * INTERVAL, AMPS_DELAY));
    best.set(COMMAND_DELAY, INTERVAL);
    best.set(AMPS_DELAY, -0.5 + 2 * INTERVAL);
    assertTrue(tries(-INTERVAL, COMMAND_DELAY));
    assertTrue(tries(-2 * INTERVAL, AMPS_DELAY));
  }

  @Test
  void nothingBeyondTheLimitsIsTried() {
    best.set(VOLTS, Math.log(3.02) - 0.49);
    best.set(COMMAND_LAG, Math.log(0.32) - 0.49);
    best.set(READOUT, Math.log(5) - 0.99);
    best.set(COMMAND_DELAY, 0.5 - 0.9 * INTERVAL);
    best.set(AMPS_DELAY, 0.5 - 1.9 * INTERVAL);
    assertFalse(tries(0.5, VOLTS));
    assertTrue(tries(0.25, VOLTS));
    assertFalse(tries(0.5, COMMAND_LAG));
    assertTrue(tries(0.25, COMMAND_LAG));
    assertFalse(tries(1, READOUT));
    assertTrue(tries(0.5, READOUT));
    assertFalse(tries(INTERVAL, COMMAND_DELAY));
    assertTrue(tries(0.5 * INTERVAL, COMMAND_DELAY));
    assertFalse(tries(2 * INTERVAL, AMPS_DELAY));
    assertTrue(tries(INTERVAL, AMPS_DELAY));
    best.set(COMMAND_DELAY, 0.9 * INTERVAL);
    best.set(AMPS_DELAY, -0.5 + 1.9 * INTERVAL);
    assertFalse(tries(-INTERVAL, COMMAND_DELAY));
    assertFalse(tries(-2 * INTERVAL, AMPS_DELAY));
  }

  /**
   * A sum of parabolas, one for each parameter: if neither of two steps h about a point helps, the
   * optimum is at most h / 2 away, with h = 1/8 for filters and lag, 1/4 for the noise, half an
   * interval for the command and an interval for the current.
   */
  @Test
  void itEndsNextToTheOptimumOfParabolas() {
    double[] optimum = new double[PARAMETERS];
    optimum[VOLTS] = Math.log(0.75);
    optimum[AMPS] = Math.log(0.07);
    optimum[COMMAND_DELAY] = 0.1234;
    optimum[AMPS_DELAY] = -0.2345;
    optimum[COMMAND_LAG] = Math.log(0.17);
    optimum[READOUT] = -1.7;
    double bestScore = score(best, optimum);
    int steps = 1;
    boolean more = true;
    descent.start(INTERVAL, best, trial);
    while (more && steps < 1000) {
      boolean better = score(trial, optimum) > bestScore;
      if (better) {
        bestScore = score(trial, optimum);
        best.copy(trial);
      }
      more = descent.next(better, best, trial);
      steps++;
    }
    assertFalse(more);
    assertEquals(optimum[VOLTS], best.get(VOLTS), 1.0 / 16);
    assertEquals(optimum[AMPS], best.get(AMPS), 1.0 / 16);
    assertEquals(optimum[COMMAND_LAG], best.get(COMMAND_LAG), 1.0 / 16);
    assertEquals(optimum[READOUT], best.get(READOUT), 1.0 / 8);
    assertEquals(optimum[COMMAND_DELAY], best.get(COMMAND_DELAY), INTERVAL / 4);
    assertEquals(optimum[AMPS_DELAY], best.get(AMPS_DELAY), INTERVAL / 2);
  }

  private static double score(TimingPoint point, double[] optimum) {
    double score = 0;
    for (int i = 0; i < PARAMETERS; i++) {
      score -= (point.get(i) - optimum[i]) * (point.get(i) - optimum[i]);
    }
    return score;
  }
}
