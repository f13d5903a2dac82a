package org.solarmargin.sim.trial;

import java.util.Arrays;
import java.util.stream.IntStream;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.sim.flight.FlightSample;

/** Accumulates a flight's {@link Accuracy}, sample by sample. */
final class AccuracyTally {

  private static final double OPTIMISTIC = 0.05;

  private static final double NEAR_RATIO = 1.3;

  private static final double GAP_LOAD = 0.6;

  private long samples;
  private double squaredError;
  private double errorSum;
  private final long[] errorCounts = new long[Accuracy.ERROR_CLASSES];
  private double innovationSum;
  private long optimistic;
  private long covered;
  private final long[] loadSamples = new long[Accuracy.LOADS.size()];
  private final long[] loadCovered = new long[Accuracy.LOADS.size()];
  private long nearSamples;
  private double nearSquaredError;
  private double gapSum;
  private long gapSamples;
  private long ceilingSamples;
  private double ceilingSquaredError;

  /** Adds one sample with its true values and the estimate. */
  void take(FlightSample s, MarginReading reading, double normalisedInnovation) {
    double error = reading.availableWatts() / s.availableWatts - 1;
    boolean holds = reading.availableLowWatts() <= s.availableWatts;
    double load = s.demandWatts / s.availableWatts;
    samples++;
    squaredError += error * error;
    errorSum += error;
    int size = (int) Math.min(Math.abs(error) / Accuracy.ERROR_STEP, Accuracy.ERROR_CLASSES - 1.0);
    errorCounts[size]++;
    innovationSum += normalisedInnovation;
    optimistic += error > OPTIMISTIC ? 1 : 0;
    covered += holds ? 1 : 0;
    int bin = 0;
    while (load >= Accuracy.LOADS.get(bin)) {
      bin++;
    }
    loadSamples[bin]++;
    loadCovered[bin] += holds ? 1 : 0;
    if (load > 1 / NEAR_RATIO) {
      nearSamples++;
      nearSquaredError += error * error;
    }
    if (load >= GAP_LOAD) {
      gapSamples++;
      gapSum += 1 - reading.availableLowWatts() / reading.availableWatts();
    }
    if (s.ceiling < 1 && reading.status() != Status.WARMING_UP) {
      double ceilingError = reading.throttleCeiling() / s.ceiling - 1;
      ceilingSamples++;
      ceilingSquaredError += ceilingError * ceilingError;
    }
  }

  Accuracy accuracy() {
    return new Accuracy(
        samples,
        squaredError,
        errorSum,
        Arrays.stream(errorCounts).boxed().toList(),
        innovationSum,
        optimistic,
        covered,
        IntStream.range(0, loadSamples.length)
            .mapToObj(i -> new Accuracy.Bound(loadSamples[i], loadCovered[i]))
            .toList(),
        new Accuracy.Squares(nearSamples, nearSquaredError),
        new Accuracy.Squares(ceilingSamples, ceilingSquaredError),
        gapSamples == 0 ? Double.NaN : gapSum / gapSamples);
  }
}
