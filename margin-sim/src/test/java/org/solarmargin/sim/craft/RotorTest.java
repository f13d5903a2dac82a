package org.solarmargin.sim.craft;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class RotorTest {

  private static final double DENSITY = 1.225;

  /** Prouty's example helicopter: 20,000 lb on a rotor of 30 ft radius, 1402.7 hp ideal. */
  @Test
  void idealPowerIsProutysExample() {
    double newtons = 20_000 * 4.4482216152605;
    double disc = Math.PI * Math.pow(30 * 0.3048, 2);
    assertEquals(1402.7, Rotor.idealWatts(newtons, disc, 1.2250) / 745.6998715822702, 1.5);
  }

  /** Houghton and Carpenter: 16 m, 170 N/m2, 53 % of 600 kW useful: climbs 110 m/min. */
  @Test
  void climbIsHoughtonAndCarpenters() {
    double newtons = 170 * Math.PI * 64;
    Rotor rotor = new Rotor(16, 0.1, 0.9);
    double useful = 0.53 * 600_000;
    double low = 0;
    double high = 10;
    for (int i = 0; i < 60; i++) {
      double climb = 0.5 * (low + high);
      double watts = 0;
      for (int k = 0; k < 20; k++) {
        watts = 0.9 * rotor.watts(newtons, DENSITY, climb, 0);
      }
      if (watts < useful) {
        low = climb;
      } else {
        high = climb;
      }
    }
    assertEquals(110.7, 60 * low, 0.5);
  }

  /**
   * Static UIUC measurements (Brandt and Selig, AIAA 2011-1255; UIUC Propeller Data Site, volume
   * 1): diameter, rpm, thrust and power of an 11x4.7 propeller and of a 10x4.7 one of the same
   * family. The rotor has CT and figure of merit of a single other measurement (11x4.7 at 4290
   * rpm), and must predict the thrust from the rpm and the power from the measured thrust. CT and
   * figure of merit increase with the Reynolds number, which constants do not model: from two
   * thirds to one and a half times the speed, the thrust is within 12 % and the power within 5 %.
   */
  @ParameterizedTest
  @CsvSource({
    "0.2794, 2875, 1.8151, 9.3395",
    "0.2794, 3423, 2.6508, 16.189",
    "0.2794, 5175, 6.7141, 62.631",
    "0.2794, 6021, 9.4646, 103.912",
    "0.254, 4029, 2.6624, 18.274",
    "0.254, 6528, 7.8404, 88.570"
  })
  void constantsOfOneMeasurementPredictOthers(
      double diameter, double rpm, double newtons, double watts) {
    Rotor rotor = new Rotor(diameter, 0.1151, 0.7049);
    assertEquals(newtons, rotor.thrust(rpm * 2 * Math.PI / 60, DENSITY, 0), 0.12 * newtons);
    assertEquals(watts, rotor.watts(newtons, DENSITY, 0, 0), 0.05 * watts);
  }

  @Test
  void powerIsProportionalToThrustToTheThreeHalves() {
    double disc = 1;
    assertEquals(
        Math.pow(2, 1.5),
        Rotor.idealWatts(20, disc, DENSITY) / Rotor.idealWatts(10, disc, DENSITY),
        1e-12);
  }

  /** Common practice, no source: about 17 g of thrust for each electrical watt in hover. */
  @Test
  void aCraftLikeStiltHoversWithTypicalEfficiency() {
    Airframe frame =
        new Airframe(1.6, 4, 0.5588, 0.1, 0.62, 0.5, 29, 0.06, 0.07, 0.93, 0.12, 3.5, 9);
    Propulsion propulsion = new Propulsion(frame);
    double watts = propulsion.steadyWatts(frame.weightNewtons(), DENSITY, 0);
    double gramsPerWatt = 1600 / watts;
    assertTrue(gramsPerWatt > 14 && gramsPerWatt < 24, "g/W " + gramsPerWatt);
    assertEquals(0.5, propulsion.throttleFor(watts, 29, DENSITY, 0), 0.01);
  }

  @Test
  void energyIsConserved() {
    Airframe frame = new Airframe(1.6, 4, 0.5588, 0.1, 0.62, 0.5, 29, 0.06, 0, 1, 0.12, 0, 0);
    Propulsion propulsion = new Propulsion(frame);
    Rotor rotor = new Rotor(0.5588, 0.1, 0.62);
    double step = 1e-4;
    double in = 0;
    double out = 0;
    for (int i = 0; i < 20_000; i++) {
      double throttle = i < 8_000 ? 0.5 : 0.45;
      double before = propulsion.kineticJoules();
      double omega = propulsion.omega();
      double each = rotor.thrust(omega, DENSITY, 0);
      double shaft = 4 * rotor.watts(each, DENSITY, 0, 0);
      double amps = propulsion.busAmps(29, throttle);
      propulsion.step(step, 29, throttle, DENSITY, 0, 0);
      // bus power minus copper loss accelerates the rotors and drives the air
      double winding = amps / throttle / 4;
      double ohms = amps == 0 ? 0 : (throttle * 29 - emf(frame) * omega) / winding;
      in += (amps * 29 - 4 * winding * winding * ohms) * step;
      out += (omega > 1 ? shaft : 0) * step + propulsion.kineticJoules() - before;
    }
    assertEquals(in, out, 0.01 * in);
  }

  private static double emf(Airframe frame) {
    Rotor rotor = new Rotor(0.5588, 0.1, 0.62);
    double speed = rotor.speedFor(frame.weightNewtons() / 4, DENSITY);
    return 0.5 * 29 * 0.94 / speed;
  }
}
