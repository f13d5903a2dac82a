package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * The likelihood of a flight, against the sum of the densities of its samples: a second on the
 * ground, then in the air, where each sample from three seconds after take-off on counts.
 */
class TimingLikelihoodTest {

  private static final double NONE = Double.NaN;
  private static final long HALF_SECOND = 500_000_000L;
  private static final int ROWS = 700;

  /** Interval of the rows; three and six seconds are no multiples of it. */
  private static final double STEP = 0.021;

  private static final long STEP_NANOS = 21_000_000L;

  /** The first row after 0.99 s. */
  private static final int TAKE_OFF = 48;

  /** 143 rows take 3.003 s. */
  private static final int COUNTED = TAKE_OFF + 143;

  /** 286 rows take 6.006 s. */
  private static final int CORRELATED = COUNTED + 286;

  /** Filters that the flight does not have. */
  private static final TimeModel FILTERED =
      new TimeModel(
          new ChannelTiming(0.1, 0, 0, 0),
          new ChannelTiming(0.1, 0, 0, 0),
          0,
          0,
          true,
          TimeModel.Source.STATED);

  private final EstimatorSettings settings = TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN);

  private double sum;
  private int pairs;
  private double correlations;
  private int correlated;

  private static TestFlight flight(long seed) {
    return new TestFlight(t -> 0.9, t -> t < 0.99 ? 0.1 : 0.5, 1 / STEP, seed);
  }

  private static void fly(TimingLikelihood likelihood, TestFlight flight, int rows) {
    for (int i = 0; i < rows; i++) {
      flight.next();
      long nanos = STEP_NANOS * i;
      likelihood.command(nanos, flight.throttle);
      likelihood.reading(nanos, flight.busVolts, flight.busAmps);
    }
  }

  /** The definition: densities of the samples in the air, correlations of their innovations. */
  private void sumUp(TestFlight flight, TimeModel model) {
    AlignedFilter filter = new AlignedFilter(settings, model);
    TimingWatch watch = new TimingWatch();
    for (int i = 0; i < ROWS; i++) {
      flight.next();
      long nanos = STEP_NANOS * i;
      filter.command(nanos, flight.throttle);
      filter.reading(nanos, flight.busVolts, flight.busAmps, NONE);
      assertTrue(filter.predict());
      filter.correct(false);
      filter.filter().setAirborne(i >= TAKE_OFF, Math.max(i - TAKE_OFF, 0) * STEP);
      if (i < COUNTED) {
        continue;
      }
      sum += filter.filter().innovations().logLikelihood();
      pairs++;
      Sample sample = filter.sample();
      watch.follow(
          STEP,
          sample.throttle,
          filter.filter().innovations().volts(),
          filter.filter().innovations().amps());
      if (i >= CORRELATED) {
        correlations += watch.correlation();
        correlated++;
      }
    }
  }

  @Test
  void itIsTheMeanOverTheSamplesInTheAir() {
    for (TimeModel model : new TimeModel[] {TimeModel.SIMULTANEOUS, FILTERED}) {
      TimingLikelihood likelihood = new TimingLikelihood(settings, model);
      fly(likelihood, flight(1), ROWS);
      sum = 0;
      pairs = 0;
      sumUp(flight(1), model);
      assertEquals(sum / pairs, likelihood.meanLogLikelihood(), 1e-9);
      assertEquals(pairs, likelihood.samples());
    }
  }

  @Test
  void aFilterThatTheFlightDoesNotHaveIsLessLikely() {
    TimingLikelihood right = new TimingLikelihood(settings, TimeModel.SIMULTANEOUS);
    fly(right, flight(1), ROWS);
    TimingLikelihood wrong = new TimingLikelihood(settings, FILTERED);
    fly(wrong, flight(1), ROWS);
    assertTrue(wrong.meanLogLikelihood() < right.meanLogLikelihood());
  }

  /** From six seconds after the first sample that counts. */
  @Test
  void theCorrelationIsTheMeanFromWhenItIsAvailable() {
    TimingLikelihood right = new TimingLikelihood(settings, TimeModel.SIMULTANEOUS);
    fly(right, flight(1), CORRELATED);
    assertTrue(Double.isNaN(right.throttleCorrelation()), "not available yet");
    right.restart(TimeModel.SIMULTANEOUS);
    fly(right, flight(1), ROWS);
    sumUp(flight(1), TimeModel.SIMULTANEOUS);
    assertTrue(correlated > 200);
    assertEquals(correlations / correlated, right.throttleCorrelation(), 1e-9);
  }

  /** Time in the air is counted from the first command: at 3 s a sample does not count yet. */
  @Test
  void samplesCountFromThreeSecondsAfterTakeOff() {
    TimingLikelihood likelihood = new TimingLikelihood(settings, TimeModel.SIMULTANEOUS);
    assertTrue(Double.isNaN(likelihood.meanLogLikelihood()));
    for (int i = 0; i < 6; i++) {
      pass(likelihood, i, 28.6, 2.7);
    }
    pass(likelihood, 6, 28.6, 2.7);
    assertEquals(0, likelihood.samples());
    assertTrue(Double.isNaN(likelihood.meanLogLikelihood()));
    pass(likelihood, 7, 28.6, 2.7);
    assertEquals(1, likelihood.samples());
    // a voltage and a current count as much together as a pair
    pass(likelihood, 8, 28.6, NONE);
    assertEquals(1, likelihood.samples());
    pass(likelihood, 9, NONE, 2.7);
    assertEquals(2, likelihood.samples());
    pass(likelihood, 10, NONE, NONE);
    assertEquals(2, likelihood.samples());
    pass(likelihood, 11, NONE, 2.7);
    pass(likelihood, 12, NONE, 2.7);
    assertEquals(3, likelihood.samples());
  }

  private static void pass(
      TimingLikelihood likelihood, int halfSeconds, double volts, double amps) {
    likelihood.command(halfSeconds * HALF_SECOND, 0.5);
    likelihood.reading(halfSeconds * HALF_SECOND, volts, amps);
  }

  @Test
  void aRestartForgetsTheFlight() {
    TimingLikelihood fresh = new TimingLikelihood(settings, FILTERED);
    fly(fresh, flight(2), ROWS);
    TimingLikelihood again = new TimingLikelihood(settings, TimeModel.SIMULTANEOUS);
    fly(again, flight(1), ROWS);
    again.restart(FILTERED);
    assertEquals(0, again.samples());
    assertTrue(Double.isNaN(again.meanLogLikelihood()));
    assertTrue(Double.isNaN(again.throttleCorrelation()));
    fly(again, flight(2), ROWS);
    assertEquals(fresh.meanLogLikelihood(), again.meanLogLikelihood());
    assertEquals(fresh.throttleCorrelation(), again.throttleCorrelation());
    assertEquals(fresh.samples(), again.samples());
  }

  /**
   * An infinite voltage leaves no finite state: the filter is restarted with it and, at the next
   * reading, from which it continues. Neither of the two counts.
   */
  @Test
  void aDivergedFilterIsRestarted() {
    TimingLikelihood likelihood = new TimingLikelihood(settings, TimeModel.SIMULTANEOUS);
    for (int i = 0; i < 20; i++) {
      pass(likelihood, i, i == 10 ? Double.POSITIVE_INFINITY : 28.6, 2.7);
    }
    assertTrue(Double.isFinite(likelihood.meanLogLikelihood()));
    assertEquals(13 - 2, likelihood.samples());
  }
}
