package org.solarmargin.cli.fit.sweep;

import java.util.concurrent.TimeUnit;
import org.hipparchus.linear.MatrixUtils;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.solarmargin.core.cell.CellParameters;

/**
 * Time of fitting a sweep of 200 points, checks included; the baseline in the same run is one
 * evaluation of the whole curve with its derivatives.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class FitBenchmark {

  private static final CellParameters CELL =
      new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005);

  private final Sweep sweep = Curves.of(CELL, 48, 1, 0.9, 40, 200, 0.002, 1);
  private final CurrentModel model =
      new CurrentModel(
          sweep, 0.0005, true, new int[] {0, 1, 2, 3, 4}, DiodeParameters.of(CELL, 25));

  /**
   * A complete fit.
   *
   * @return rms error
   */
  @Benchmark
  public double fit() {
    return CheckedFit.of(sweep, FitOptions.DEFAULT).rms();
  }

  /**
   * Baseline: one evaluation.
   *
   * @return a current
   */
  @Benchmark
  public double oneEvaluation() {
    return model
        .value(MatrixUtils.createRealVector(DiodeParameters.of(CELL, 25)))
        .getFirst()
        .getEntry(7);
  }
}
