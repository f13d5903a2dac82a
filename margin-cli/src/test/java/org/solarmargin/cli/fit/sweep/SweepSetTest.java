package org.solarmargin.cli.fit.sweep;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Sweeps of one array at several temperatures, with errors of thermometer and light sensor. */
class SweepSetTest {

  private static final double COEFF = -0.0029;
  private static final CellParameters CELL =
      new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005, COEFF, 25);

  private final Random random = new Random(4);

  private FitResult fit(double suns, double celsius, double kelvinOff, double lightOff) {
    Sweep seen = Curves.of(CELL, 48, 1, suns, celsius, 80, 0.001, random.nextLong());
    return CheckedFit.of(seen.at(1 + lightOff, kelvinOff), FitOptions.DEFAULT);
  }

  private SweepSet set(double coolest, double warmest, int sweeps) {
    List<FitResult> fits = new ArrayList<>();
    for (int i = 0; i < sweeps; i++) {
      double celsius = coolest + (warmest - coolest) * i / (sweeps - 1);
      double suns = 0.5 + 0.5 * random.nextDouble();
      fits.add(fit(suns, celsius, random.nextGaussian(), 0.02 * random.nextGaussian()));
    }
    return new SweepSet(fits, FitOptions.DEFAULT);
  }

  @Test
  void theCoefficientIsFoundWithinItsSigma() {
    double chiSquare = 0;
    int trials = 40;
    for (int k = 0; k < trials; k++) {
      SweepSet set = set(10, 45, 8);
      assertTrue(set.coefficientFound());
      assertTrue(set.vocCoeffSd() < 0.0003, () -> "sigma " + set.vocCoeffSd());
      chiSquare += Math.pow((set.vocCoeff() - COEFF) / set.vocCoeffSd(), 2) / trials;
    }
    double mean = chiSquare;
    assertTrue(mean < 1.3, () -> "mean square relative to the sigma's " + mean);
  }

  @Test
  void sweepsAtOneTemperatureKeepTheStatedCoefficient() {
    SweepSet set = set(38, 41, 5);
    assertFalse(set.coefficientFound());
    assertEquals(FitOptions.DEFAULT.vocCoeffPerKelvin(), set.vocCoeff());
    assertEquals(FitOptions.DEFAULT.vocCoeffSd(), set.vocCoeffSd());
  }

  @Test
  void theJointCellMatchesTheArrayAtEveryTemperature() {
    SweepSet set = set(10, 45, 10);
    SolarArray truth = new SolarArray(CELL, 48, 1);
    for (double celsius : new double[] {10, 25, 45}) {
      truth.set(1, celsius);
      truth.solvePeak();
      double peak = set.joint().array(1, celsius).peakWatts();
      assertEquals(1, peak / truth.peakWatts(), 0.02, "at " + celsius + " C");
    }
    assertEquals(1, set.joint().cell().ideality() / CELL.ideality(), 0.05);
  }

  /**
   * Light and temperature of another hour, so that currents are not proportional to the stated
   * light.
   */
  @Test
  void metadataThatDoNotBelongToTheSweepsAreNotUsed() {
    List<FitResult> fits = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      double off = i % 2 == 0 ? 1.5 : -0.4;
      fits.add(fit(0.6, 30, 15 * random.nextGaussian(), off));
    }
    SweepSet set = new SweepSet(fits, FitOptions.DEFAULT);
    assertTrue(set.lightOff());
    assertFalse(set.coefficientFound());
  }

  private static final double[] LIGHTS = {0.9, 0.85, 0.8, 0.95, 0.9, 0.75, 0.8};

  /**
   * Clouds that passed the light sensor but not the array: three of seven lights are a tenth to a
   * third of the right ones, and the temperatures are of that time.
   */
  @Test
  void sweepsWhoseLightContradictsTheOthersAreLeftOut() {
    List<FitResult> fits = new ArrayList<>();
    for (int i = 0; i < LIGHTS.length; i++) {
      boolean cloud = i % 2 == 1;
      fits.add(fit(LIGHTS[i], 15 + 5 * i, cloud ? -15 : 0, cloud ? -0.9 + 0.1 * i : 0.01 * i));
    }
    SweepSet set = new SweepSet(fits, FitOptions.DEFAULT);
    assertEquals(4, set.used().size(), () -> String.join("\n", set.leftOut()));
    assertEquals(3, set.leftOut().size());
    assertTrue(
        set.leftOut().get(0).matches(".*: a light of 1\\d\\d W/m2 .* that of 8\\d\\d"),
        set.leftOut().get(0));
    SolarArray truth = new SolarArray(CELL, 48, 1);
    truth.solvePeak();
    assertEquals(1, set.joint().array(1, 25).peakWatts() / truth.peakWatts(), 0.04);
  }

  @Test
  void darkSweepsAreNamed() {
    List<FitResult> fits = List.of(fit(0.9, 25, 0, 0), fit(0.8, 30, 0, 0), fit(0.3, 25, 0, 0));
    SweepSet set = new SweepSet(fits, FitOptions.DEFAULT);
    assertEquals(2, set.used().size());
    assertTrue(set.leftOut().get(0).contains("W/m2 by its current, below 400"));
  }

  /**
   * One file in which the cells warm up from point to point while the voltage is swept back and
   * forth.
   */
  @Test
  void temperaturesThatVaryWithinASweepDetermineTheCoefficient() {
    Sweep still = Curves.of(CELL, 48, 1, 0.9, 40, 120, 0, 1);
    double[] volts = new double[120];
    double[] amps = new double[120];
    double[] heat = new double[120];
    double[] light = new double[120];
    Arrays.fill(light, 0.9);
    SolarArray array = new SolarArray(CELL, 48, 1);
    for (int i = 0; i < 120; i++) {
      // back and forth twice
      int k = i % 60 < 30 ? 4 * (i % 30) : 119 - 4 * (i % 30);
      heat[i] = 15 + 30.0 * i / 120;
      volts[i] = 0.95 * still.volts(k);
      array.set(0.9, heat[i]);
      amps[i] = array.ampsAt(volts[i]) + 0.01 * random.nextGaussian();
    }
    FitResult fit =
        CheckedFit.of(new Sweep("test", 48, 1, volts, amps, light, heat), FitOptions.DEFAULT);
    assertTrue(fit.isFree(DiodeParameters.COEFF));
    assertEquals(COEFF, fit.vocCoeff(), 3 * fit.vocCoeffSd());
    assertTrue(fit.vocCoeffSd() < 0.0001, () -> "sigma " + fit.vocCoeffSd());
  }
}
