package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** The Kalman filter and a particle filter on the same readings: equal means, similar sigmas. */
class ParticleFilterTest {

  private static final int FLIGHTS = 3;
  private static final int FIRST_PARTICLES = 150_000;
  private static final int PARTICLES = 8_000;
  private static final int STEPS = 260;
  private static final int FIRST_JUDGED = 160;

  /** Relative difference of the means due to linearisation and the particles' own scatter. */
  private static final double MEANS = 0.01;

  /** The Kalman filter's sigma is larger, because it allows for edges, which these flights lack. */
  private static final double WIDEST = 1.6;

  private static final double NARROWEST = 0.85;

  @Test
  void meanAndSpreadAgree() {
    double squaredDifference = 0;
    double logRatio = 0;
    int judged = 0;
    double drift = EdgeDetector.CALM_LIGHT_DRIFT;
    EstimatorSettings settings = PosteriorBound.matched();
    for (int seed = 1; seed <= FLIGHTS; seed++) {
      ModelFlight flight = new ModelFlight(settings, t -> drift, 1, seed);
      ParticleFilter particles =
          new ParticleFilter(
              new FilterModel(settings, ModelFlight.STEP, new CoolingWatch().excessKelvin()),
              FIRST_PARTICLES,
              PARTICLES,
              flight.throttle,
              seed);
      MarginEstimator kalman = new MarginEstimator(settings);
      MarginReading reading = new MarginReading();
      for (int k = 0; k < STEPS; k++) {
        double step = ModelFlight.STEP;
        particles.update(flight.busVolts, flight.busAmps, flight.throttle, drift);
        kalman.update(step, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
        if (k >= FIRST_JUDGED && k % 20 == 0) {
          double[] slow = particles.logAvailable();
          double difference = Math.log(kalman.medianWatts()) - slow[0];
          squaredDifference += difference * difference;
          logRatio += Math.log(kalman.filterLogSd()) - Math.log(slow[1]);
          judged++;
        }
        flight.next();
      }
    }
    assertEquals(0, Math.sqrt(squaredDifference / judged), MEANS, "rms difference of the means");
    double ratio = Math.exp(logRatio / judged);
    assertTrue(
        ratio > NARROWEST && ratio < WIDEST, () -> "Kalman's sigma over the particles' " + ratio);
  }
}
