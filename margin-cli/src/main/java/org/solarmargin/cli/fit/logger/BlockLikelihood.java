package org.solarmargin.cli.fit.logger;

import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.TimingLikelihood;
import org.solarmargin.core.timing.TimeModel;

/** Log-likelihood of a flight's readings, block by block. */
final class BlockLikelihood {

  /**
   * Number of blocks: few enough that their errors are independent, and enough for a standard
   * error. Engineering judgement.
   */
  static final int BLOCKS = 12;

  private final FlightRows rows;
  private final TimingLikelihood likelihood;

  BlockLikelihood(EstimatorSettings settings, FlightRows rows) {
    this.rows = rows;
    this.likelihood = new TimingLikelihood(settings, TimeModel.UNKNOWN);
  }

  /** Log-likelihoods summed over blocks of equally many rows. */
  double[] of(TimeModel model) {
    likelihood.restart(model);
    double[] sums = new double[BLOCKS];
    double before = 0;
    int row = 0;
    for (int block = 0; block < BLOCKS; block++) {
      int end = (int) ((long) rows.size() * (block + 1) / BLOCKS);
      for (; row < end; row++) {
        likelihood.command(rows.nanos(row), rows.throttle(row));
        likelihood.reading(rows.nanos(row), rows.volts(row), rows.amps(row));
      }
      long pairs = likelihood.samples();
      double now = pairs == 0 ? 0 : likelihood.meanLogLikelihood() * pairs;
      sums[block] = now - before;
      before = now;
    }
    return sums;
  }
}
