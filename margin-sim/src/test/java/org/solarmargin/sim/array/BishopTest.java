package org.solarmargin.sim.array;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Bishop's avalanche term (Solar Cells 25, 1988): the conventional cell of pvlib-python's
 * partial-shading example, computed with 40 digits: in full sun, and in a fifth of the light with
 * five times the shunt resistance.
 */
class BishopTest {

  /** The simulator neglects the avalanche term in forward bias, where it is about a microampere. */
  private static final double FORWARD_AMPS = 1.2e-6;

  @ParameterizedTest
  @CsvSource({
    "0.5, 8.23201295994, 1.64041368499",
    "-5, 8.24503375236, 1.64900675236",
    "-10, 8.25054000236, 1.65010800236",
    "-14, 8.34850000236, 1.66970000236",
    "-14.5, 9.03750000236, 1.80750000236",
    "-14.8, 20.7423000024, 4.14846000236"
  })
  void workedPointsAreReproduced(double diodeVolts, double full, double shaded) {
    double ideality = 1.3;
    SimCell cell = new SimCell(8.24, 2.36e-9, ideality, 0, 0.00181, 1000, 0, -0.003, 2e-3, -15, 3);
    CellGroup group = new CellGroup(cell, 1);
    group.set(1, 298.15);
    double room = diodeVolts > 0 ? FORWARD_AMPS : 0;
    assertEquals(full, group.ampsAtDiode(diodeVolts), 2e-10 * full + room);
    group.set(0.2, 298.15);
    assertEquals(shaded, group.ampsAtDiode(diodeVolts), 2e-10 * shaded + room);
  }
}
