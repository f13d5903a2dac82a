package org.solarmargin.core.rotor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RotorLoadTest {

  private static final double WINDING = 14.5;
  private static final double WATTS = 75;
  private static final double SHARE = 0.06;
  private static final double OHMS = RotorLoad.ohmsFrom(WATTS, WINDING, SHARE);
  private static final double PROPULSION = RotorLoad.propulsionFrom(WATTS, WINDING, SHARE);

  @Test
  void theHoverPointIsReproduced() {
    double emf = RotorLoad.steadyBackEmf(WINDING, OHMS, PROPULSION);
    assertEquals((1 - SHARE) * WINDING, emf, 1e-9);
    assertEquals(WATTS, WINDING * (WINDING - emf) / OHMS, 1e-9);
    double found = RotorLoad.backEmfFor(WATTS, OHMS, PROPULSION, 0);
    assertEquals(WINDING, RotorLoad.windingVolts(found, OHMS, PROPULSION), 1e-9);
  }

  /** 80 W at 20 V are 4 A; a tenth of the voltage falls over 0.5 ohm, and 4 A over 18 V squared. */
  @Test
  void windingAndPropulsionAreThoseOfTheHover() {
    assertEquals(0.5, RotorLoad.ohmsFrom(80, 20, 0.1), 1e-12);
    assertEquals(4 / (18.0 * 18), RotorLoad.propulsionFrom(80, 20, 0.1), 1e-12);
  }

  @Test
  void powerIsProportionalToALittleLessThanTheCubeOfVoltage() {
    double more = 1.1 * WINDING;
    double emf = RotorLoad.steadyBackEmf(more, OHMS, PROPULSION);
    double exponent = Math.log(more * (more - emf) / OHMS / WATTS) / Math.log(1.1);
    assertTrue(exponent > 2.8 && exponent < 3, "exponent " + exponent);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 1e-9, 1, 13, 13.6, 20, 1e6, Double.NaN, Double.POSITIVE_INFINITY})
  void theSolveConvergesFromAnyInitialGuess(double near) {
    double emf = RotorLoad.backEmfFor(WATTS, OHMS, PROPULSION, near);
    assertEquals((1 - SHARE) * WINDING, emf, 1e-9);
  }

  @Test
  void noPowerNeedsNoVoltage() {
    assertEquals(0, RotorLoad.backEmfFor(0, OHMS, PROPULSION, 0));
    double emf = RotorLoad.backEmfFor(-1, OHMS, PROPULSION, 0);
    assertEquals(0, RotorLoad.windingVolts(emf, OHMS, PROPULSION));
  }
}
