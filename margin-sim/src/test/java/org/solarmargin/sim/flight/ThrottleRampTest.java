package org.solarmargin.sim.flight;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ThrottleRampTest {

  /** From 5 s on it rises for 20 s from 0.1 to 0.9, and is let go within a second. */
  @ParameterizedTest
  @CsvSource({
    "0, 0.1",
    "5, 0.1",
    "10, 0.3",
    "15, 0.5",
    "25, 0.9",
    "25.5, 0.5",
    "26, 0.1",
    "99, 0.1"
  })
  void itRisesEvenlyAndIsLetGo(double time, double throttle) {
    assertEquals(throttle, new ThrottleRamp(5, 20, 0.9).throttle(time, 0.1), 1e-12);
  }

  @Test
  void aTopUnderIdleIsIdle() {
    assertEquals(0.1, new ThrottleRamp(0, 1, 0.05).throttle(1, 0.1));
  }

  @Test
  void withoutATopThereIsNone() {
    assertFalse(ThrottleRamp.NONE.present());
    assertTrue(new ThrottleRamp(0, 1, 0.01).present());
  }
}
