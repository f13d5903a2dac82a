package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Momentum theory, worked out by hand: T sqrt(T / (2 rho A)) with rho 1.225 kg/m3. */
class HoverCheckTest {

  private static final SolarArray ARRAY =
      new SolarArray(new CellParameters(6, 1e-10, 1.1, 0.004, 30, 0.0005), 48, 1);

  private static StrictProperties properties() {
    StrictProperties in = new StrictProperties("p", "power = 1");
    assertTrue(in.has("power"));
    return in;
  }

  private static List<String> faults(StrictProperties in) {
    return assertThrows(PropertiesException.class, in::finish).faults();
  }

  /**
   * One disc of 2 m, pi m2, that lifts 2 rho pi x 9 N has an induced speed of 3 m/s and takes 54
   * rho pi W = 207.82 W.
   */
  @Test
  void theIdealPowerIsThrustTimesInducedSpeed() {
    double newtons = 2 * 1.225 * Math.PI * 9;
    HoverCheck one = new HoverCheck(newtons / 9.80665, 1, 2);
    assertEquals(207.82, one.idealWatts(), 0.01);
    assertEquals(3 * newtons, one.idealWatts(), 1e-9);
    // four discs of half the diameter have the same area
    assertEquals(3 * newtons, new HoverCheck(newtons / 9.80665, 4, 1).idealWatts(), 1e-9);
    assertTrue(Double.isNaN(new HoverCheck(Double.NaN, 4, 1).idealWatts()));
  }

  @Test
  void theLeastDiameterIsThatWhoseIdealPowerIsThePower() {
    for (int rotors : new int[] {1, 4, 6}) {
      double diameter = new HoverCheck(1.6, rotors, Double.NaN).leastDiameter(40);
      assertEquals(40, new HoverCheck(1.6, rotors, diameter).idealWatts(), 1e-9);
    }
  }

  @Test
  void theIdealPowerItselfIsEnough() {
    HoverCheck check = new HoverCheck(1.6, 4, 0.5588);
    StrictProperties in = properties();
    check.ofRotors(in, "power", check.idealWatts());
    new HoverCheck(Double.NaN, 4, 0.5588).ofRotors(in, "power", 0);
    assertDoesNotThrow(in::finish);
    StrictProperties low = properties();
    check.ofRotors(low, "power", check.idealWatts() * 0.999);
    assertEquals(1, faults(low).size());
  }

  @Test
  void aMassThatNoRotorsLiftIsToldOnlyWithoutADiameter() {
    HoverCheck grams = new HoverCheck(1600, 4, Double.NaN);
    StrictProperties in = properties();
    new HoverCheck(1600, 4, 0.5).ofMass(in, "power", 80);
    new HoverCheck(Double.NaN, 4, Double.NaN).ofMass(in, "power", 80);
    // rotors of 5 m are just possible: what they take at best
    grams.ofMass(in, "power", new HoverCheck(1600, 4, 5).idealWatts() * 1.000001);
    assertDoesNotThrow(in::finish);
    StrictProperties low = properties();
    grams.ofMass(low, "power", new HoverCheck(1600, 4, 5).idealWatts() * 0.999);
    assertTrue(faults(low).get(0).contains("kilograms"));
  }

  @Test
  void twelveTenthsOfTheArraysPowerIsTheMost() {
    ARRAY.set(1, 25);
    ARRAY.solvePeak();
    double most = 1.2 * ARRAY.peakWatts();
    ARRAY.set(0.1, 80);
    StrictProperties in = properties();
    HoverCheck.ofArray(in, "power", most * 0.999_999, ARRAY);
    assertDoesNotThrow(in::finish);
    StrictProperties high = properties();
    ARRAY.set(0.1, 80);
    ARRAY.solvePeak();
    HoverCheck.ofArray(high, "power", most * 1.000_001, ARRAY);
    assertTrue(faults(high).get(0).contains("more than the array gives"));
  }

  @Test
  void aHoverPowerAboveHousekeepingIsAHover() {
    String text =
        "housekeeping.power_w = 3\nrotor.hover_throttle = 0.5\nrotor.hover_bus_v = 20\n"
            + "rotor.hover_power_w = ";
    StrictProperties in = new StrictProperties("p", text + "3.001");
    new HoverKeys(in);
    assertDoesNotThrow(in::finish);
    StrictProperties equal = new StrictProperties("p", text + "3");
    new HoverKeys(equal);
    assertEquals(1, faults(equal).size());
  }
}
