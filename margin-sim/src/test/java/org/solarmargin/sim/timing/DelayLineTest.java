package org.solarmargin.sim.timing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DelayLineTest {

  private static final double STEP = 0.005;

  @ParameterizedTest
  @CsvSource({"0, 0", "0.005, 1", "0.06, 12", "0.3, 60", "0.5, 100"})
  void aDelayOfWholeStepsReturnsTheValuesExactly(double seconds, int steps) {
    DelayLine line = new DelayLine(seconds, STEP);
    for (int i = 0; i < 300; i++) {
      line.push(Math.sin(i));
      double expected = Math.sin(Math.max(i - steps, 0));
      assertEquals(expected, line.held(), "held, step " + i);
      assertEquals(expected, line.interpolated(), "interpolated, step " + i);
    }
  }

  /** 0.018 s is 3.6 steps: between the values of four and three steps ago. */
  @Test
  void aDelayBetweenStepsHoldsOrInterpolates() {
    DelayLine line = new DelayLine(0.018, STEP);
    for (int i = 0; i < 50; i++) {
      line.push(2 * i);
      if (i >= 4) {
        assertEquals(2 * (i - 4), line.held());
        assertEquals(2 * (i - 3.6), line.interpolated(), 1e-12);
      }
    }
  }

  @ParameterizedTest
  @CsvSource({"0.125, 25 50 75 100", "0.02, 4 8 12 16", "0.012, 3 5 8 10", "0, 1 2 3 4"})
  void anEventIsDueInTheFirstStepAtOrAfterIt(double period, String expected) {
    PeriodClock clock = new PeriodClock(period, STEP);
    List<String> due = new ArrayList<>();
    for (int i = 0; due.size() < 5; i++) {
      if (clock.tick()) {
        due.add(Integer.toString(i));
      }
    }
    assertEquals("0 " + expected, String.join(" ", due));
  }
}
