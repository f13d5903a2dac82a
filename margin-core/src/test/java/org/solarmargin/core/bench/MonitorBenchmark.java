package org.solarmargin.core.bench;

import java.util.concurrent.TimeUnit;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.infra.Blackhole;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.MatrixFilter;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.monitor.MarginMonitor;

/**
 * Time of one update with alerts. Baselines in the same run: the same filter on a general matrix
 * library, one warm solve of the array's peak, and that solve by a general root finder.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class MonitorBenchmark {

  private static final int SAMPLES = 8192;

  /** About a microsecond on the machine at hand. */
  private static final long SPIN_TOKENS = 515;

  /** As sharp as the warm solve's own step. */
  private static final double ROOT_VOLTS = 1e-9;

  private final double[] volts = new double[SAMPLES];
  private final double[] amps = new double[SAMPLES];
  private final double[] throttle = new double[SAMPLES];
  private MarginMonitor monitor;
  private MatrixFilter matrices;
  private SolarArray array;
  private final BracketingNthOrderBrentSolver rootFinder =
      new BracketingNthOrderBrentSolver(ROOT_VOLTS, 5);
  private long time;
  private int at;

  /** Records a flight through a cloud. */
  @Setup
  public void record() {
    TestFlight flight = new TestFlight(t -> 0.95 - 0.2 / (1 + Math.exp(60 - t)), t -> 0.5, 50, 1);
    for (int i = 0; i < SAMPLES; i++) {
      flight.next();
      volts[i] = flight.busVolts;
      amps[i] = flight.busAmps;
      throttle[i] = flight.throttle;
    }
    monitor = new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    matrices = new MatrixFilter(TestCraft.SETTINGS);
    array = new SolarArray(TestCraft.SETTINGS.cell(), 48, 1);
  }

  /**
   * One update, alerts included.
   *
   * @return available power
   */
  @Benchmark
  public double update() {
    at = (at + 1) & (SAMPLES - 1);
    time += 20_000_000L;
    monitor.update(time, volts[at], amps[at], throttle[at]);
    return monitor.reading().availableWatts();
  }

  /** Baseline: as long a time of mere counting, for the tail that is the machine's own. */
  @Benchmark
  public void machineAlone() {
    Blackhole.consumeCPU(SPIN_TOKENS);
  }

  /**
   * Baseline: move the array and solve its maximum power point from a warm start.
   *
   * @return available power
   */
  @Benchmark
  public double peakSolve() {
    at = (at + 1) & (SAMPLES - 1);
    array.set(0.9 + 1e-6 * at, 45);
    array.solvePeak();
    return array.peakWatts();
  }

  /**
   * Baseline: the same filter, without gate and alerts, on general matrices.
   *
   * @return available power
   */
  @Benchmark
  public double updateOnMatrices() {
    at = (at + 1) & (SAMPLES - 1);
    return matrices.update(0.02, volts[at], amps[at], throttle[at]);
  }

  /**
   * Baseline: the same peak as the root of dP/dV, each point of the curve solved in turn.
   *
   * @return available power
   */
  @Benchmark
  public double peakSolveByRootFinder() {
    at = (at + 1) & (SAMPLES - 1);
    array.set(0.9 + 1e-6 * at, 45);
    double open = array.openCircuitVolts();
    double peak = rootFinder.solve(100, this::powerSlope, 0.5 * open, open);
    return peak * array.ampsAt(peak);
  }

  private double powerSlope(double busVolts) {
    double h = 1e-4;
    double up = (busVolts + h) * array.ampsAt(busVolts + h);
    double down = (busVolts - h) * array.ampsAt(busVolts - h);
    return (up - down) / (2 * h);
  }
}
