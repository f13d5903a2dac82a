package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;
import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.array.SimCell;

/** Distinguishes instrument errors at the ends of a sweep from steps of the array. */
class EndPointsTest {

  private static final CellParameters CELL =
      new CellParameters(8.9, 7.5e-10, 1.09, 0.0043, 12, 0.0005);

  private static final double PEAK = 0.01;

  private final Random random = new Random(11);

  private static SolarArray array() {
    SolarArray array = new SolarArray(CELL, 60, 1);
    array.set(0.8, 40);
    array.solvePeak();
    return array;
  }

  private Sweep sweep(int points, double firstError, int firstPoints, boolean clipped) {
    SolarArray array = array();
    double[] volts = new double[points];
    double[] amps = new double[points];
    // an evenly stepped voltage whose last step passes open circuit, where a load cannot follow
    double last = clipped ? 1.006 : 1;
    for (int i = 0; i < points; i++) {
      volts[i] = last * array.openCircuitVolts() * i / (points - 1);
      amps[i] = array.ampsAt(volts[i]) * (1 + 0.0005 * random.nextGaussian());
      amps[i] = i < firstPoints ? amps[i] * (1 + firstError) : amps[i];
      amps[i] = clipped ? Math.max(amps[i], 0.01) : amps[i];
    }
    return Curves.sweep(60, 1, 0.8, 40, volts, amps);
  }

  private static void assertPeak(FitResult fit) {
    assertEquals(1, fit.array(0.8, 40).peakWatts() / array().peakWatts(), PEAK);
  }

  @ParameterizedTest
  @ValueSource(ints = {40, 95, 180})
  void aLastPointClippedAtZeroIsLeftOutAndReported(int points) {
    FitResult fit = CheckedFit.of(sweep(points, 0, 0, true), FitOptions.DEFAULT);
    assertPeak(fit);
    List<String> notes = fit.sweep().leftOut();
    assertEquals(points - 1, fit.sweep().size(), notes::toString);
    assertTrue(notes.get(0).startsWith("last point is off"), notes::toString);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.04, -0.02, -0.01, 0.01, 0.02, 0.04})
  void firstPointsThatAreOffAreLeftOutAndReported(double error) {
    for (int count = 1; count <= 3; count++) {
      FitResult fit = CheckedFit.of(sweep(95, error, count, false), FitOptions.DEFAULT);
      assertPeak(fit);
      List<String> notes = fit.sweep().leftOut();
      assertEquals(95 - count, fit.sweep().size(), notes::toString);
      assertTrue(notes.get(0).startsWith("first"), notes::toString);
    }
  }

  @Test
  void aGoodSweepKeepsAllItsPoints() {
    for (int k = 0; k < 50; k++) {
      Sweep sweep = sweep(30 + 3 * k, 0, 0, false);
      FitResult fit = CheckedFit.of(sweep, FitOptions.DEFAULT);
      assertEquals(sweep.size(), fit.sweep().size(), () -> fit.sweep().leftOut().toString());
    }
  }

  @Test
  void aFirstPointThatIsFarOffIsRefused() {
    Sweep sweep = sweep(95, 0.2, 1, false);
    SweepRefusal refusal =
        assertThrows(SweepRefusal.class, () -> CheckedFit.of(sweep, FitOptions.DEFAULT));
    assertEquals(SweepState.STEPPED, refusal.state());
  }

  /** Two and three power peaks due to bypass diodes, with and without a clipped end. */
  @Test
  void curvesWithSeveralPeaksAreRefusedAsStepped() {
    SimCell cell = SimCell.of(CELL);
    for (int k = 0; k < 60; k++) {
      boolean three = k % 2 == 0;
      double second = 0.2 + 0.65 * random.nextDouble();
      double third = three ? 0.2 + 0.65 * random.nextDouble() : 1;
      StringLayout string =
          new StringLayout(List.of(shaded(cell, second), shaded(cell, third), shaded(cell, 1)));
      SimArray array = new SimArray(new ArrayLayout(List.of(string), false));
      array.set(0.3 + 0.7 * random.nextDouble(), 313.15);
      int points = 60 + random.nextInt(130);
      double[] volts = new double[points];
      double[] amps = new double[points];
      double open = (k % 4 < 2 ? 1.006 : 1) * array.openCircuitVolts();
      for (int i = 0; i < points; i++) {
        volts[i] = open * i / (points - 1);
        amps[i] = Math.max(array.ampsAt(volts[i]), 0.01);
      }
      Sweep sweep = Curves.sweep(60, 1, 1, 40, volts, amps);
      SweepRefusal refusal =
          assertThrows(
              SweepRefusal.class,
              () -> CheckedFit.of(sweep, FitOptions.DEFAULT),
              "light " + second + ", " + third);
      assertEquals(SweepState.STEPPED, refusal.state(), refusal.getMessage());
    }
  }

  private static SubstringLayout shaded(SimCell cell, double light) {
    return new SubstringLayout(
        List.of(new GroupLayout(cell, 1, light, 0), new GroupLayout(cell, 19, 1, 0)), true);
  }
}
