package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Scale;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.cell.CellParameters;

/** Laws of the fit over the plausible range of cells. */
class FitLawsProperties {

  /** Relative tolerance of the MPP power and of each parameter that the points determine. */
  private static final double SAME = 1e-4;

  private static CellParameters cell(double isc, double voc, double n, double rs, double rsh) {
    double saturation = isc * Math.exp(-voc / (n * DiodeParameters.thermalVolts(25)));
    // resistances relative to Voc/Isc, so that the size of the cell does not matter
    double unit = voc / isc;
    return new CellParameters(isc, saturation, n, rs * unit, rsh * unit, 0.0005);
  }

  @Property(tries = 60, seed = "11")
  void exactPointsRecoverTheModel(
      @ForAll @DoubleRange(min = 0.05, max = 15) double isc,
      @ForAll @DoubleRange(min = 0.5, max = 0.75) double voc,
      @ForAll @DoubleRange(min = 0.95, max = 1.9) double n,
      @ForAll @Scale(4) @DoubleRange(min = 0.005, max = 0.15) double rs,
      @ForAll @DoubleRange(min = 5, max = 200) double rsh,
      @ForAll @IntRange(min = 1, max = 96) int series) {
    CellParameters cell = cell(isc, voc, n, rs, rsh);
    Sweep sweep = Curves.of(cell, series, 1, 0.9, 40, 40, 0, 1);
    FitResult fit = new SingleDiodeFit(sweep, FitOptions.DEFAULT).run();
    assertTrue(fit.rms() < 1e-7 * isc, () -> "rms over Isc " + fit.rms() / isc);
    CellParameters back = fit.cell();
    assertEquals(1, back.photocurrentAmps() / cell.photocurrentAmps(), SAME, "IL");
    assertEquals(1, back.ideality() / cell.ideality(), SAME, "n");
    assertEquals(1, back.seriesOhms() / cell.seriesOhms(), SAME, "Rs");
    assertEquals(1, back.shuntOhms() / cell.shuntOhms(), 10 * SAME, "Rsh");
  }

  @Property(tries = 20, seed = "12")
  void orderOfPointsDoesNotMatter(@ForAll @IntRange(min = 0, max = 10_000) int seed) {
    Sweep sweep = Curves.of(cell(6, 0.68, 1.1, 0.03, 50), 48, 1, 1, 25, 30, 0.003, seed);
    int[] order = IntStream.range(0, sweep.size()).toArray();
    Random random = new Random(seed);
    for (int i = order.length - 1; i > 0; i--) {
      int j = random.nextInt(i + 1);
      int kept = order[i];
      order[i] = order[j];
      order[j] = kept;
    }
    Sweep mixed =
        Curves.sweep(
            48,
            1,
            1,
            25,
            IntStream.of(order).mapToDouble(sweep::volts).toArray(),
            IntStream.of(order).mapToDouble(sweep::amps).toArray());
    assertSame(fit(sweep), fit(mixed), 1);
  }

  @Property(tries = 20, seed = "13")
  void scalingTheCurrentScalesTheCell(@ForAll @DoubleRange(min = 0.01, max = 20) double factor) {
    Sweep sweep = Curves.of(cell(6, 0.68, 1.1, 0.03, 50), 48, 1, 1, 25, 30, 0.003, 5);
    Sweep scaled =
        Curves.sweep(
            48,
            1,
            1,
            25,
            IntStream.range(0, sweep.size()).mapToDouble(sweep::volts).toArray(),
            IntStream.range(0, sweep.size()).mapToDouble(i -> factor * sweep.amps(i)).toArray());
    assertSame(fit(sweep), fit(scaled), factor);
  }

  @Property(tries = 30, seed = "14")
  void aPerfectPointNeverWorsensTheStandardErrors(
      @ForAll @DoubleRange(min = 0, max = 0.66) double cellVolts) {
    CellParameters cell = cell(6, 0.68, 1.1, 0.03, 50);
    Sweep sweep = Curves.of(cell, 1, 1, 1, 25, 8, 0, 1);
    double[] volts = IntStream.range(0, 9).mapToDouble(i -> i < 8 ? sweep.volts(i) : 0).toArray();
    double[] amps = IntStream.range(0, 9).mapToDouble(i -> i < 8 ? sweep.amps(i) : 0).toArray();
    volts[8] = cellVolts;
    amps[8] =
        new CurrentModel(
                Curves.sweep(1, 1, 1, 25, volts, amps),
                0.0005,
                true,
                new int[0],
                DiodeParameters.of(cell, 25))
            .amps(DiodeParameters.of(cell, 25), 8);
    // the variance is the stated one for eight and nine points, so that only the points matter
    FitOptions options = new FitOptions(0.0005, -0.0033, 0.0005, 0, 0.01);
    FitResult eight =
        new FitResult(
            sweep, options, model(sweep, cell), DiodeParameters.of(cell, 25), ALL, ones(8));
    Sweep more = Curves.sweep(1, 1, 1, 25, volts, amps);
    FitResult nine =
        new FitResult(more, options, model(more, cell), DiodeParameters.of(cell, 25), ALL, ones(9));
    double varianceChange = 1 + 1e-6;
    for (int j = 0; j < DiodeParameters.SIZE; j++) {
      assertTrue(nine.statedSd(j) <= eight.statedSd(j) * varianceChange, "parameter " + j);
    }
  }

  private static final int[] ALL = {0, 1, 2, 3, 4};

  private static CurrentModel model(Sweep sweep, CellParameters cell) {
    return new CurrentModel(sweep, 0.0005, true, ALL, DiodeParameters.of(cell, 25));
  }

  private static double[] ones(int n) {
    return IntStream.range(0, n).mapToDouble(i -> 1).toArray();
  }

  private static FitResult fit(Sweep sweep) {
    return new SingleDiodeFit(sweep, FitOptions.DEFAULT).run();
  }

  private static void assertSame(FitResult one, FitResult other, double factor) {
    assertEquals(1, other.rms() / (factor * one.rms()), SAME, "rms");
    double[] a = one.values();
    double[] b = other.values();
    assertEquals(1, b[0] / (factor * a[0]), SAME, "IL");
    assertEquals(1, b[2] / a[2], SAME, "n");
    assertEquals(1, b[3] * factor / a[3], SAME, "Rs");
    assertEquals(1, one.array(1, 25).peakWatts() * factor / other.array(1, 25).peakWatts(), SAME);
  }

  /** Arbitrary content gives a fit with finite results, or a refusal. */
  @Property(tries = 300, seed = "15")
  void garbageIsFittedOrRefused(
      @ForAll long seed, @ForAll @IntRange(min = 0, max = 60) int points) {
    Random random = new Random(seed);
    double voltScale = Math.pow(10, 4 * random.nextDouble() - 2);
    double ampScale = Math.pow(10, 4 * random.nextDouble() - 2);
    int kind = random.nextInt(4);
    double[] volts = new double[points];
    double[] amps = new double[points];
    for (int i = 0; i < points; i++) {
      double v = kind == 0 ? random.nextDouble() : (double) i / Math.max(points - 1, 1);
      double shape =
          switch (kind) {
            case 0 -> random.nextGaussian();
            case 1 -> 1 - v;
            case 2 -> 1 - Math.pow(v, 12) + 0.2 * random.nextGaussian();
            default -> random.nextInt(3) - 1;
          };
      volts[i] = voltScale * v;
      amps[i] = ampScale * shape;
    }
    Sweep sweep = Curves.sweep(1 + random.nextInt(96), 1 + random.nextInt(3), 0.8, 30, volts, amps);
    try {
      FitResult fit = CheckedFit.of(sweep, FitOptions.DEFAULT);
      assertTrue(fit.rms() >= 0 && fit.array(1, 25).peakWatts() > 0, "finite results");
    } catch (InputFault refused) {
      assertTrue(refused.getMessage().startsWith("test: "), refused.getMessage());
    }
  }
}
