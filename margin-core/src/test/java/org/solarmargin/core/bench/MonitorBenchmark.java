package org.solarmargin.core.bench;

import java.util.Arrays;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.hipparchus.analysis.solvers.BracketingNthOrderBrentSolver;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.infra.Blackhole;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.LoggedFlight;
import org.solarmargin.core.estimator.MatrixFilter;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * Time of one update with alerts. Baselines in the same run: the same filter with a general matrix
 * library, one solve of the array's peak from a warm start, and that solve by a general root
 * finder.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.SampleTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class MonitorBenchmark {

  private static final int SAMPLES = 8192;

  /** About a microsecond on the machine on which it was measured. */
  private static final long SPIN_TOKENS = 515;

  /** As accurate as the last step of the solve from a warm start. */
  private static final double ROOT_VOLTS = 1e-9;

  private static final double ROW_SECONDS = 0.02;
  private static final double VOLTS_FILTER = 0.1;
  private static final double AMPS_FILTER = 0.15;
  private static final double ROUNDING = 0.01;

  /** 1.75 rows, so that commands take effect between two readings. */
  private static final double COMMAND_DELAY = 0.035;

  private static final double COMMAND_LAG = 0.05;

  private final double[] volts = new double[SAMPLES];
  private final double[] amps = new double[SAMPLES];
  private final double[] throttle = new double[SAMPLES];
  private final double[] filteredVolts = new double[SAMPLES];
  private final double[] filteredAmps = new double[SAMPLES];
  private final double[] commands = new double[SAMPLES];
  private MarginMonitor monitor;
  private MarginMonitor behindFilters;
  private MatrixFilter matrices;
  private SolarArray array;
  private final BracketingNthOrderBrentSolver rootFinder =
      new BracketingNthOrderBrentSolver(ROOT_VOLTS, 5);
  private long time;
  private int at;

  /** Records a flight through a cloud, which is repeated, with immediate readings and filters. */
  @Setup
  public void record() {
    TestFlight flight = cloud();
    for (int i = 0; i < SAMPLES; i++) {
      flight.next();
      volts[i] = flight.busVolts;
      amps[i] = flight.busAmps;
      throttle[i] = flight.throttle;
    }
    recordBehindFilters();
    monitor = new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    ChannelTiming filtered = new ChannelTiming(VOLTS_FILTER, 0, 0, ROUNDING);
    ChannelTiming late = new ChannelTiming(AMPS_FILTER, 2 * ROW_SECONDS, 0, ROUNDING);
    TimeModel everything =
        new TimeModel(filtered, late, COMMAND_LAG, COMMAND_DELAY, true, TimeModel.Source.STATED);
    behindFilters =
        new MarginMonitor(
            TestCraft.SETTINGS.withTiming(everything),
            AlertRules.DEFAULT,
            (t, l, r, w, m, z) -> {});
    matrices = new MatrixFilter(TestCraft.SETTINGS);
    array = new SolarArray(TestCraft.SETTINGS.cell(), 48, 1);
  }

  private static TestFlight cloud() {
    return new TestFlight(t -> 0.95 - 0.2 / (1 + Math.exp(60 - t)), t -> 0.5, 1 / ROW_SECONDS, 1);
  }

  /** The command is reconstructed so that its lag gives the flight's throttle. */
  private void recordBehindFilters() {
    TestFlight flight = cloud();
    LoggedFlight logged = new LoggedFlight(flight, VOLTS_FILTER, AMPS_FILTER, 2, 2, 1, ROUNDING);
    double before = Double.NaN;
    for (int i = 0; i < SAMPLES; i++) {
      logged.next();
      filteredVolts[i] = logged.busVolts;
      filteredAmps[i] = logged.busAmps;
      double moved = i == 0 ? 0 : flight.throttle - before;
      before = flight.throttle;
      commands[i] = Math.max(before + COMMAND_LAG / ROW_SECONDS * moved, 0);
    }
  }

  /**
   * One update, including alerts.
   *
   * @return available power
   */
  @Benchmark
  public double update() {
    at = (at + 1) & (SAMPLES - 1);
    if (at == 0) {
      monitor.reset();
    }
    time += 20_000_000L;
    monitor.update(time, volts[at], amps[at], throttle[at]);
    return monitor.reading().availableWatts();
  }

  /**
   * One update with a full time model: both filters, delays, rounding, lag and delay of the
   * command.
   *
   * @return available power
   */
  @Benchmark
  public double updateBehindFilters() {
    at = (at + 1) & (SAMPLES - 1);
    if (at == 0) {
      behindFilters.reset();
    }
    time += 20_000_000L;
    behindFilters.update(time, filteredVolts[at], filteredAmps[at], commands[at]);
    return behindFilters.reading().availableWatts();
  }

  /** The benchmark would measure less if the estimator had rejected the time model. */
  @TearDown(Level.Iteration)
  public void checkTimeModel() {
    if (behindFilters.timingStatus() != TimingStatus.STATED) {
      throw new IllegalStateException("time model: " + behindFilters.timingStatus());
    }
  }

  /** Times of all updates of an iteration; JMH samples only one in thirty. */
  @State(Scope.Thread)
  public static class Clock {

    private static final int NANOS_A_BIN = 10;
    private static final double[] SHARES = {0.5, 0.99, 0.999, 0.9999};

    private final int[] counts = new int[100_000];
    private long total;

    void add(long nanos) {
      counts[(int) Math.min(nanos / NANOS_A_BIN, counts.length - 1)]++;
      total++;
    }

    /** Clears the previous iteration. */
    @Setup(Level.Iteration)
    public void clear() {
      Arrays.fill(counts, 0);
      total = 0;
    }

    /** Prints the quantiles, ns, including the time of reading the clock. */
    @TearDown(Level.Iteration)
    public void print() {
      StringBuilder line = new StringBuilder("  all updates timed:");
      for (double share : SHARES) {
        long below = 0;
        int bin = 0;
        while (below < share * total) {
          below += counts[bin++];
        }
        line.append(String.format(Locale.ROOT, " p%s %d ns", 100 * share, bin * NANOS_A_BIN));
      }
      System.out.println(line);
    }
  }

  /**
   * One update, including alerts, each of them timed: JMH's samples are too few to distinguish one
   * in a thousand from timer interrupts.
   *
   * @param clock counts of times
   * @return available power
   */
  @Benchmark
  @BenchmarkMode(Mode.AverageTime)
  public double everyUpdate(Clock clock) {
    long before = System.nanoTime();
    double watts = update();
    clock.add(System.nanoTime() - before);
    return watts;
  }

  /** Baseline: counting for an equal time, which shows the machine's own tail. */
  @Benchmark
  public void machineAlone() {
    Blackhole.consumeCPU(SPIN_TOKENS);
  }

  /**
   * Baseline: sets the array's light and solves its maximum power point from a warm start.
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
   * Baseline: the same filter with general matrices, without gate and alerts.
   *
   * @return available power
   */
  @Benchmark
  public double updateOnMatrices() {
    at = (at + 1) & (SAMPLES - 1);
    return matrices.update(0.02, volts[at], amps[at], throttle[at]);
  }

  /**
   * Baseline: the same peak as the root of dP/dV, with a separate solve for each point of the
   * curve.
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
