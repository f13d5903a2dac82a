package org.solarmargin.sim.air;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AirTest {

  /** ISO 2533:1975, geopotential altitude. */
  @ParameterizedTest
  @CsvSource({
    "0, 288.15, 101325, 1.225",
    "500, 284.90, 95460.8, 1.16727",
    "1000, 281.65, 89874.6, 1.11164",
    "1500, 278.40, 84556.0, 1.05807",
    "2000, 275.15, 79495.2, 1.00649",
    "2500, 271.90, 74682.5, 0.956859",
    "3000, 268.65, 70108.5, 0.909122"
  })
  void standardAtmosphereEqualsTheTable(
      double metres, double kelvin, double pascal, double density) {
    assertEquals(kelvin, StandardAtmosphere.kelvin(metres), 1e-9);
    assertEquals(pascal, StandardAtmosphere.pascal(metres), 0.06);
    assertEquals(density, StandardAtmosphere.density(metres), 6e-6);
  }

  /** MIL-F-8785C low-altitude scales for W20 = 15 kt, computed from the formulae. */
  @ParameterizedTest
  @CsvSource({
    "5, 36.567, 1.4979",
    "10, 67.366, 1.4574",
    "30.48, 153.976, 1.3241",
    "50, 202.290, 1.2296",
    "100, 262.794, 1.0649",
    "304.8, 304.800, 0.7717"
  })
  void drydenScalesEqualTheWorkedValues(double metres, double scale, double sigma) {
    assertEquals(scale, DrydenGust.alongScale(metres), 0.02);
    assertEquals(sigma, DrydenGust.alongSigma(metres, 7.71667), 1e-4);
  }

  /** Variance, and one-sided spectrum from averaged periodograms, against the computed values. */
  @Test
  void drydenVarianceAndSpectrumFollowTheFormulae() {
    double step = 0.1;
    int window = 4096;
    int windows = 400;
    DrydenGust gust = new DrydenGust(10, 5, 7.71667, step, new Random(3));
    double[] sums = new double[2];
    double[] power = new double[2];
    // the bin nearest 1 rad/s
    int bin = (int) Math.round(window * step / (2 * Math.PI));
    double omega = 2 * Math.PI * bin / (window * step);
    for (int w = 0; w < windows; w++) {
      double[] re = new double[2];
      double[] im = new double[2];
      for (int i = 0; i < window; i++) {
        gust.step();
        double taper = 0.5 - 0.5 * Math.cos(2 * Math.PI * i / window);
        double[] value = {gust.alongMetresPerSecond(), gust.upMetresPerSecond()};
        for (int k = 0; k < 2; k++) {
          sums[k] += value[k] * value[k];
          re[k] += taper * value[k] * Math.cos(omega * i * step);
          im[k] += taper * value[k] * Math.sin(omega * i * step);
        }
      }
      for (int k = 0; k < 2; k++) {
        power[k] += re[k] * re[k] + im[k] * im[k];
      }
    }
    double n = (double) window * windows;
    // u has about n dt / (pi L/V) independent samples, w more; three sigmas of a variance
    assertEquals(2.12399499, sums[0] / n, 2.124 * 3 * Math.sqrt(2 * Math.PI * 13.5 / (n * step)));
    assertEquals(0.59546996, sums[1] / n, 0.5955 * 3 * Math.sqrt(2 * Math.PI * 2 / (n * step)));
    double norm = step / (Math.PI * 0.375 * window);
    double u = phiU(omega);
    double w = phiW(omega);
    double three = 3 / Math.sqrt(windows);
    assertEquals(u, power[0] / windows * norm, three * u);
    assertEquals(w, power[1] / windows * norm, three * w);
    assertEquals(18.218141, phiU(0), 1e-5);
    assertEquals(0.099810741, phiU(1), 1e-6);
    assertEquals(0.37908795, phiW(0), 1e-6);
    assertEquals(0.19712573, phiW(1), 1e-6);
  }

  private static double phiU(double omega) {
    double s = DrydenGust.alongSigma(10, 7.71667);
    double l = DrydenGust.alongScale(10);
    return 2 * s * s * l / (Math.PI * 5) / (1 + Math.pow(l * omega / 5, 2));
  }

  private static double phiW(double omega) {
    double s = DrydenGust.upSigma(7.71667);
    double x = 10 * omega / 5;
    return s * s * 10 / (Math.PI * 5) * (1 + 3 * x * x) / Math.pow(1 + x * x, 2);
  }

  @Test
  void discreteGustsHaveBothPublishedShapes() {
    assertEquals(0.512563, DiscreteGust.held(30, 120, 3.5), 1e-6);
    assertEquals(1.75, DiscreteGust.held(60, 120, 3.5), 1e-12);
    assertEquals(3.5, DiscreteGust.held(200, 120, 3.5), 1e-12);
    assertEquals(1, DiscreteGust.wave(30, 30, 1), 1e-12);
    assertEquals(0, DiscreteGust.wave(61, 30, 1), 1e-12);
  }

  @Test
  void beforeAGustTheAirIsStill() {
    assertEquals(0, DiscreteGust.held(-1, 120, 3.5));
    assertEquals(0, DiscreteGust.held(0, 120, 3.5));
    assertEquals(0, DiscreteGust.wave(-1, 30, 1));
  }

  /** In no turbulence at all nothing moves, up or along. */
  @Test
  void noTurbulenceIsNone() {
    DrydenGust calm = new DrydenGust(10, 5, 0, 0.02, new Random(1));
    for (int i = 0; i < 1000; i++) {
      calm.step();
      assertEquals(0, calm.alongMetresPerSecond(), 0);
      assertEquals(0, calm.upMetresPerSecond(), 0);
    }
  }
}
