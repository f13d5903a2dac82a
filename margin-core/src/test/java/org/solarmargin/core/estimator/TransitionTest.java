package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * The transition compared with its derivation: the mean with its differential equations integrated
 * in small steps, the covariance with {@code J P J' + Q} where J is from finite differences of the
 * mean and Q from the variances of the stated processes. {@link MatrixFilter} contains the same
 * formulas and cannot find an error in them.
 */
class TransitionTest {

  private static final double STEP = 0.02;
  private static final double DIFFERENCE = 1e-5;

  private final EstimatorSettings settings = TestCraft.SETTINGS;
  private final SolarArray array = settings.newArray();
  private final OperatingPoint point =
      new OperatingPoint(array, settings.rotor().housekeepingWatts());
  private final Prior prior = new Prior(settings);

  private static double[] state(double suns, double emf) {
    double[] x = new double[State.SIZE];
    x[State.LIGHT] = Math.log(suns);
    x[State.CELL] = 41;
    x[State.EMF] = emf;
    x[State.GUST] = 0.1;
    x[State.PROPULSION] = Math.log(0.0275);
    x[State.WINDING] = Math.log(0.17);
    x[State.AIR] = 2;
    x[State.CURRENT_GAIN] = -0.02;
    x[State.SERIES] = 0.1;
    x[State.IDEALITY] = 0.01;
    x[State.VOC_COEFF] = 1e-4;
    return x;
  }

  private void solve(double[] x, double throttle) {
    TestCraft.move(array, x);
    point.reset();
    point.solve(x, throttle);
  }

  /** One step of state and covariance from a newly solved operating point. */
  private void move(double[] x, Covariance p, double throttle) {
    solve(x, throttle);
    point.differentiate(x, throttle, 0, 0);
    Transition transition = new Transition(settings, prior, point, new Instruments());
    double suns = Math.exp(x[State.LIGHT]);
    transition.moveRotor(x, p, STEP, throttle, 1, 1);
    transition.moveCells(x, p, STEP, suns, true);
    transition.addProcessNoise(x, p, STEP, EdgeDetector.CALM_LIGHT_DRIFT, 0);
  }

  @ParameterizedTest
  @CsvSource({"0.9, 13.2, 0.5", "0.9, 14.6, 0.56", "0.6, 12, 0.52"})
  void theCovarianceEqualsThatOfFiniteDifferences(double suns, double emf, double throttle) {
    double[] x = state(suns, emf);
    double[][] j = jacobian(x, throttle);
    double[][] before = covariance();
    Covariance p = new Covariance();
    for (int a = 0; a < State.UNFILTERED; a++) {
      for (int b = 0; b < State.UNFILTERED; b++) {
        p.set(a, b, before[a][b]);
      }
    }
    double[] noise = noise(x, throttle, before);
    double[] moved = x.clone();
    move(moved, p, throttle);
    for (int a = 0; a < State.UNFILTERED; a++) {
      for (int b = 0; b < State.UNFILTERED; b++) {
        double expected = a == b ? noise[a] : 0;
        for (int k = 0; k < State.UNFILTERED; k++) {
          for (int l = 0; l < State.UNFILTERED; l++) {
            expected += j[a][k] * before[k][l] * j[b][l];
          }
        }
        double scale = Math.sqrt(before[a][a] * before[b][b]);
        assertEquals(expected, p.get(a, b), 1e-5 * scale, "covariance of " + a + " and " + b);
      }
    }
  }

  private double[][] jacobian(double[] x, double throttle) {
    double[][] j = new double[State.SIZE][State.SIZE];
    for (int k = 0; k < State.UNFILTERED; k++) {
      double[] up = x.clone();
      double[] down = x.clone();
      up[k] += DIFFERENCE;
      down[k] -= DIFFERENCE;
      move(up, new Covariance(), throttle);
      move(down, new Covariance(), throttle);
      for (int i = 0; i < State.UNFILTERED; i++) {
        j[i][k] = (up[i] - down[i]) / (2 * DIFFERENCE);
      }
    }
    return j;
  }

  /**
   * Variances added by a step: white noise times its length, and those of the decaying processes.
   */
  private double[] noise(double[] x, double throttle, double[][] before) {
    double[] q = new double[State.SIZE];
    solve(x, throttle);
    double emf = Transition.EMF_DRIFT * steadyEmf(x, throttle);
    q[State.EMF] = emf * emf * STEP;
    double excess = new CoolingWatch().excessKelvin();
    q[State.CELL] = Math.pow(Transition.cellDrift(excess), 2) * STEP;
    q[State.LIGHT] = EdgeDetector.CALM_LIGHT_DRIFT * EdgeDetector.CALM_LIGHT_DRIFT * STEP;
    q[State.PROPULSION] = Transition.PROPULSION_DRIFT * Transition.PROPULSION_DRIFT * STEP;
    q[State.GUST] = decaying(Prior.GUST_LOG_SD, Transition.GUST_SECONDS);
    q[State.AIR] = decaying(Prior.airSd(true) + excess, Transition.AIR_SECONDS);
    q[State.WINDING] = decaying(Prior.WINDING_LOG_SD, Transition.WINDING_MEMORY_SECONDS);
    for (int k = State.ESTIMATED; k < State.UNFILTERED; k++) {
      double stated = Math.pow(prior.constantSd(k), 2);
      double forgotten = 2 * stated * STEP / Transition.CONSTANT_SECONDS;
      q[k] = Math.min(forgotten, Math.max(stated - before[k][k], 0));
    }
    return q;
  }

  /** Variance that a step adds to an Ornstein-Uhlenbeck process of this sigma. */
  private static double decaying(double sd, double seconds) {
    return sd * sd * -Math.expm1(-2 * STEP / seconds);
  }

  /** Sigmas of the filter's magnitude with random correlations. */
  private double[][] covariance() {
    double[] x = new double[State.SIZE];
    Covariance first = new Covariance();
    prior.fill(x, first);
    Random random = new Random(3);
    int n = State.UNFILTERED;
    double[][] root = new double[n][n];
    for (int i = 0; i < n; i++) {
      double sd = 0.5 * Math.sqrt(first.get(i, i)) / Math.sqrt(n);
      for (int k = 0; k < n; k++) {
        root[i][k] = sd * random.nextGaussian();
      }
    }
    double[][] p = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int k = 0; k < n; k++) {
        for (int l = 0; l < n; l++) {
          p[i][k] += root[i][l] * root[k][l];
        }
      }
    }
    return p;
  }

  private double steadyEmf(double[] x, double throttle) {
    return RotorLoad.steadyBackEmf(
        throttle * point.volts(),
        Math.exp(x[State.WINDING]),
        Math.exp(x[State.PROPULSION] + x[State.GUST]));
  }

  /** Rotor and cells by their differential equations, integrated in a thousand Heun steps. */
  @Test
  void theMeanIsThatOfTheDifferentialEquations() {
    double throttle = 0.56;
    double[] x = state(0.9, 13);
    solve(x, throttle);
    double steady = steadyEmf(x, throttle);
    assertTrue(Math.abs(steady - x[State.EMF]) > 0.5, "the step must be noticeable: " + steady);
    double air = settings.thermal().ambientCelsius() + x[State.AIR];
    double target = air + settings.thermal().sunRiseKelvin() * 0.9;
    double[] expected = {
      integrated(x[State.EMF], steady, Transition.MOTOR_SECONDS),
      integrated(x[State.CELL], target, settings.thermal().timeConstantSeconds()),
      integrated(x[State.GUST], 0, Transition.GUST_SECONDS),
      integrated(x[State.AIR], 0, Transition.AIR_SECONDS),
      integrated(x[State.WINDING], prior.logWinding(), Transition.WINDING_MEMORY_SECONDS)
    };
    int[] states = {State.EMF, State.CELL, State.GUST, State.AIR, State.WINDING};
    double[] moved = x.clone();
    move(moved, new Covariance(), throttle);
    for (int i = 0; i < states.length; i++) {
      assertEquals(expected[i], moved[states[i]], 1e-9, "state " + states[i]);
    }
    for (int k : new int[] {State.LIGHT, State.PROPULSION, State.SERIES, State.VOC_COEFF}) {
      assertEquals(x[k], moved[k], 0, "the mean of a random walk does not change");
    }
  }

  /** {@code dx/dt = (target - x) / tau} over one step. */
  private static double integrated(double start, double target, double tau) {
    int steps = 1000;
    double h = STEP / steps;
    double x = start;
    for (int i = 0; i < steps; i++) {
      double first = (target - x) / tau;
      double second = (target - (x + h * first)) / tau;
      x += 0.5 * h * (first + second);
    }
    return x;
  }
}
