package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;
import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.array.SimCell;

/**
 * Clean and stepped sweeps of the simulator's cell-by-cell arrays, and input that is not a sweep.
 */
class SweepCheckTest {

  private static final SimCell CELL =
      new SimCell(
          6.02, 1.3e-11, 0.99, 0, 0.0052, 10.2, 0.0005, -0.0029, 1.036748e-4, -5.52726, 3.284629);

  /** The design's limit for the power at the MPP. */
  private static final double POWER = 0.01;

  private final Random random = new Random(3);

  /** A string of slightly unequal cells with one group darker. */
  private Sweep sweep(int weakCells, double weakLight, double suns, double celsius, double noise) {
    List<GroupLayout> groups = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      int count = 8 - (i == 0 ? weakCells : 0);
      groups.add(new GroupLayout(CELL, count, 1 + 0.006 * random.nextGaussian(), 0));
    }
    if (weakCells > 0) {
      groups.add(new GroupLayout(CELL, weakCells, weakLight, 0));
    }
    SimArray array =
        new SimArray(
            new ArrayLayout(
                List.of(new StringLayout(List.of(new SubstringLayout(groups, false)))), false));
    array.set(suns, celsius + 273.15);
    int points = 60 + random.nextInt(100);
    double open = array.openCircuitVolts();
    double[] volts = new double[points];
    double[] amps = new double[points];
    for (int i = 0; i < points; i++) {
      volts[i] = open * (i + 0.5 * random.nextDouble()) / points;
      amps[i] = array.ampsAt(volts[i]) + noise * 6 * suns * random.nextGaussian();
    }
    array.solvePeakGlobally();
    truePeak = array.peakWatts();
    return Curves.sweep(48, 1, suns, celsius, volts, amps);
  }

  private double truePeak;

  @Test
  void cleanSweepsPassAndTheirPeakIsFoundWithinOnePercent() {
    for (int i = 0; i < 200; i++) {
      double suns = 0.15 + random.nextDouble();
      Sweep sweep = sweep(0, 1, suns, 10 + 50 * random.nextDouble(), 0.004 * random.nextDouble());
      FitResult fit = CheckedFit.of(sweep, FitOptions.DEFAULT);
      double peak = fit.array(suns, sweep.celsius(0)).peakWatts();
      assertEquals(1, peak / truePeak, POWER, "sweep " + i);
    }
  }

  @Test
  void steppedSweepsAreRecognised() {
    for (int i = 0; i < 200; i++) {
      double suns = 0.3 + 0.8 * random.nextDouble();
      // with more light, reverse current through the weak cell's shunt hides the step
      double light = 0.3 + 0.5 * random.nextDouble();
      Sweep sweep = sweep(1 + random.nextInt(3), light, suns, 40, 0.003 * random.nextDouble());
      InputFault fault = assertThrows(InputFault.class, () -> fitAndCheck(sweep), "light " + light);
      assertTrue(fault.getMessage().contains("STEPPED"), fault.getMessage());
    }
  }

  private static void fitAndCheck(Sweep sweep) {
    CheckedFit.of(sweep, FitOptions.DEFAULT);
  }

  private static void assertRefused(Sweep sweep, String reason) {
    InputFault fault = assertThrows(InputFault.class, () -> fitAndCheck(sweep));
    assertTrue(fault.getMessage().contains(reason), fault.getMessage());
  }

  private static double[] volts(Sweep s, double factor) {
    return java.util.stream.IntStream.range(0, s.size())
        .mapToDouble(i -> factor * s.volts(i))
        .toArray();
  }

  private static double[] amps(Sweep s, double factor) {
    return java.util.stream.IntStream.range(0, s.size())
        .mapToDouble(i -> factor * s.amps(i))
        .toArray();
  }

  @Test
  void inputThatIsNotASweepIsRefusedWithTheReason() {
    Sweep good = sweep(0, 1, 1, 40, 0.001);
    assertRefused(good.swapped(), "interchanged");
    assertRefused(Curves.sweep(48, 1, 1, 40, volts(good, 1000), amps(good, 1)), "millivolts");
    assertRefused(Curves.sweep(24, 1, 1, 40, volts(good, 1), amps(good, 1)), "--series");
    assertRefused(Curves.sweep(96, 1, 1, 40, volts(good, 1), amps(good, 1)), "--series");
    assertRefused(Curves.sweep(48, 1, 1, 40, volts(good, 1), amps(good, -1)), "sign");
    assertRefused(
        Curves.sweep(48, 1, 1, 40, new double[] {0, 20, 30}, new double[] {6, 5.9, 0}), "5 points");
    double[] noisy = amps(good, 1);
    for (int i = 0; i < noisy.length; i++) {
      noisy[i] += 0.4 * random.nextGaussian();
    }
    assertRefused(Curves.sweep(48, 1, 1, 40, volts(good, 1), noisy), "noisy");
    assertRefused(
        Curves.sweep(
            48,
            1,
            1,
            40,
            new double[] {1, 5, 9, 13, 17, 20},
            new double[] {6.0, 6.0, 5.99, 5.98, 5.97, 5.96}),
        "larger resistances");
  }

  @Test
  void interchangedColumnsOfOneCellAreRefusedAlthoughBothLookPlausible() {
    Sweep rtc =
        Sweep.read(PublishedCurvesTest.TABLES.resolve("rtc-france-33c.csv"), 1, 1, 1000, 33);
    assertThrows(InputFault.class, () -> fitAndCheck(rtc.swapped()));
  }

  @Test
  void readingsUnderAPassingCloudAreNotFittedAsOneCurve() {
    Sweep good = sweep(0, 1, 1, 40, 0.001);
    double[] amps = amps(good, 1);
    double[] volts = volts(good, 1);
    // up and down again, as resistors are changed, while a cloud passes
    int n = amps.length;
    double[] mixedVolts = new double[n];
    double[] mixedAmps = new double[n];
    for (int i = 0; i < n; i++) {
      int from = i % 2 == 0 ? i / 2 : n - 1 - i / 2;
      mixedVolts[i] = volts[from];
      mixedAmps[i] = amps[from] * (1 - 0.25 * i / n);
    }
    assertRefused(Curves.sweep(48, 1, 1, 40, mixedVolts, mixedAmps), "");
  }

  /** Six resistors with the light uncertain by 2 % at each: the peak is found within 3 % rms. */
  @Test
  void sixReadingsUnderADriftingSunFindThePeak() {
    SolarArray array =
        new SolarArray(new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005), 48, 1);
    double squared = 0;
    for (int k = 0; k < 200; k++) {
      double[] volts = {14, 21, 24.5, 26.5, 28, 29.5};
      double[] amps = new double[volts.length];
      for (int i = 0; i < volts.length; i++) {
        array.set(1 + 0.02 * random.nextGaussian(), 40);
        amps[i] = array.ampsAt(volts[i]);
      }
      FitResult fit =
          CheckedFit.of(
              Curves.sweep(48, 1, 1, 40, volts, amps),
              new FitOptions(0.0005, -0.0033, 0.0005, 0.02, Double.NaN));
      array.set(1, 40);
      array.solvePeak();
      squared += Math.pow(fit.array(1, 40).peakWatts() / array.peakWatts() - 1, 2);
    }
    double rms = Math.sqrt(squared / 200);
    assertTrue(rms < 0.03, () -> "rms of the peak " + rms);
  }

  /** Constant light measured with noise, and drifting light measured exactly. */
  @Test
  void scatterOfTheLightIsAttributedCorrectly() {
    Sweep clean =
        Curves.of(
            new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005),
            48,
            1,
            0.8,
            40,
            80,
            0.0005,
            3);
    double[] noisy = new double[clean.size()];
    double[] drifting = new double[clean.size()];
    double[] driftedAmps = new double[clean.size()];
    double[] heat = new double[clean.size()];
    java.util.Arrays.fill(heat, 40);
    for (int i = 0; i < noisy.length; i++) {
      noisy[i] = 0.8 * (1 + 0.01 * random.nextGaussian());
      drifting[i] = 0.8 * (1 + 0.08 * i / noisy.length);
      SolarArray array =
          new SolarArray(new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005), 48, 1);
      array.set(drifting[i], 40);
      driftedAmps[i] = array.ampsAt(clean.volts(i));
    }
    FitResult still =
        CheckedFit.of(
            new Sweep("test", 48, 1, volts(clean, 1), amps(clean, 1), noisy, heat),
            FitOptions.DEFAULT);
    FitResult drifted =
        CheckedFit.of(
            new Sweep("test", 48, 1, volts(clean, 1), driftedAmps, drifting, heat),
            FitOptions.DEFAULT);
    assertTrue(still.rms() < 0.005, () -> "rms " + still.rms());
    assertTrue(drifted.rms() < 1e-6, () -> "rms " + drifted.rms());
  }
}
