package org.solarmargin.core.lag;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** The exact decay of a first-order lag, exp(-t / tau). */
class FirstOrderLagTest {

  @Test
  void whatIsKeptDecaysExponentially() {
    FirstOrderLag lag = new FirstOrderLag(4);
    assertEquals(Math.exp(-0.5), lag.keep(2), 1e-15);
    assertEquals(Math.exp(-0.5), lag.keep(2), 1e-15);
    assertEquals(Math.exp(-0.25), lag.keep(1), 1e-15, "another step");
    assertEquals(1 - Math.exp(-2), lag.share(8), 1e-15);
    assertEquals(1, lag.keep(0));
    assertEquals(0, lag.share(0));
    assertEquals(1, lag.share(Double.POSITIVE_INFINITY));
  }

  @Test
  void twoStepsAreOne() {
    FirstOrderLag lag = new FirstOrderLag(0.3);
    assertEquals(lag.keep(0.07), lag.keep(0.02) * lag.keep(0.05), 1e-15);
  }
}
