package org.solarmargin.sim.array;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;

/**
 * Compared with the same array in ngspice (Debian package), a general-purpose circuit simulator.
 */
class NgspiceTest {

  /** Tolerances relative to the short-circuit current and to the maximum power. */
  private static final double CURRENT = 0.002;

  private static final double POWER = 0.001;
  private static final SimCell CELL =
      new SimCell(
          6.02, 1.3e-11, 0.99, 0, 0.0052, 10.2, 0.0005, -0.0029, 1.036748e-4, -5.52726, 3.284629);

  @TempDir private Path folder;

  private static SubstringLayout sub(boolean bypassed, GroupLayout... groups) {
    return new SubstringLayout(List.of(groups), bypassed);
  }

  private static GroupLayout group(int count, double light) {
    return new GroupLayout(CELL, count, light, 0);
  }

  private static ArrayLayout string(SubstringLayout... subs) {
    return new ArrayLayout(List.of(new StringLayout(List.of(subs))), false);
  }

  static Stream<Arguments> arrays() {
    SimCell twoDiodes = CELL.aged(1, 1, 1, 1.1e-6);
    return Stream.of(
        Arguments.of("uniform", string(sub(false, group(48, 1)))),
        Arguments.of("one cell at 20 %", string(sub(false, group(1, 0.2), group(47, 1)))),
        Arguments.of(
            "three groups", string(sub(false, group(16, 1), group(16, 0.9), group(16, 0.7)))),
        Arguments.of(
            "bypass diodes over half the string",
            string(sub(true, group(4, 0.4), group(20, 1)), sub(false, group(24, 1)))),
        Arguments.of("reverse breakdown active", string(sub(false, group(2, 0.05), group(46, 1)))),
        Arguments.of(
            "two unequal parallel strings",
            new ArrayLayout(
                List.of(
                    new StringLayout(List.of(sub(false, group(24, 1)))),
                    new StringLayout(List.of(sub(false, group(24, 0.55))))),
                false)),
        Arguments.of("second diode", string(sub(false, new GroupLayout(twoDiodes, 48, 0.8, 0)))));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("arrays")
  void theWholeCurveAgrees(String name, ArrayLayout layout) throws Exception {
    assumeTrue(Ngspice.installed(), "ngspice is not installed: the check against it is skipped");
    SimArray array = new SimArray(layout);
    array.set(1, 298.15);
    double open = array.openCircuitVolts();
    List<double[]> curve = new Ngspice(layout, 1).sweep(folder, open, open / 2000);
    double isc = array.ampsAt(0);
    double best = 0;
    for (double[] row : curve) {
      assertEquals(row[1], array.ampsAt(row[0]), CURRENT * isc, name + " at " + row[0] + " V");
      best = Math.max(best, row[0] * row[1]);
    }
    assertTrue(curve.size() > 1900, "points: " + curve.size());
    array.solvePeakGlobally();
    assertEquals(best, array.peakWatts(), POWER * best, name + ": maximum power");
  }

  /** The first peak counted from open circuit, and the second one, of a string with dim cells. */
  @ParameterizedTest
  @CsvSource({"1, 0.7", "1, 0.35", "3, 0.9", "3, 0.6", "8, 0.8", "8, 0.4"})
  void firstAndSecondPeakOfAShadedStringAgree(int dim, double light) throws Exception {
    assumeTrue(Ngspice.installed(), "ngspice is not installed: the check against it is skipped");
    ArrayLayout layout = string(sub(false, group(dim, light), group(48 - dim, 1)));
    SimArray array = new SimArray(layout);
    array.set(1, 298.15);
    double open = array.openCircuitVolts();
    List<double[]> curve = new Ngspice(layout, 1).sweep(folder, open, open / 4000);
    double first = 0;
    double firstVolts = 0;
    double dip = Double.POSITIVE_INFINITY;
    double second = 0;
    for (int i = curve.size() - 1; i >= 0; i--) {
      double watts = curve.get(i)[0] * curve.get(i)[1];
      if (dip < 0.99 * first) {
        dip = Math.min(dip, watts);
        second = Math.max(second, watts);
      } else if (watts > first) {
        first = watts;
        firstVolts = curve.get(i)[0];
        dip = watts;
      } else if (first > 0) {
        dip = Math.min(dip, watts);
      }
    }
    array.solveFirstPeak();
    assertEquals(first, array.peakWatts(), POWER * first, "first peak");
    assertEquals(firstVolts, array.peakVolts(), 0.01 * firstVolts, "voltage of the first peak");
    array.solvePeakGlobally();
    assertEquals(Math.max(first, second), array.peakWatts(), POWER * first, "the highest peak");
  }

  @Test
  void aLoadStepAcrossTheKneeSettlesOnTheCurve() throws Exception {
    assumeTrue(Ngspice.installed(), "ngspice is not installed: the check against it is skipped");
    ArrayLayout layout = string(sub(false, group(48, 0.6)));
    SimArray array = new SimArray(layout);
    array.set(1, 298.15);
    double before = 12;
    double after = 3;
    List<double[]> course = new Ngspice(layout, 1).step(folder, 100e-6, before, after);
    array.solvePeakGlobally();
    double end = course.get(course.size() - 1)[1];
    assertTrue(end < 0.8 * array.peakVolts(), "past the knee: " + end);
    assertEquals(end / after, array.ampsAt(end), CURRENT * array.ampsAt(0));
    double settled = course.get(0)[1];
    for (double[] row : course) {
      settled = row[0] < 0.0049 ? row[1] : settled;
    }
    assertTrue(settled > array.peakVolts(), "before the knee: " + settled);
    assertEquals(settled / before, array.ampsAt(settled), CURRENT * array.ampsAt(0));
  }
}
