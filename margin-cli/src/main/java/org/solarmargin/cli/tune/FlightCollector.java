package org.solarmargin.cli.tune;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.cli.tune.rule.WrongEdit;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Feeds flights to a tuner: they are evaluated by several threads and added one by one in order.
 */
final class FlightCollector implements AutoCloseable {

  private final Tuner tuner;
  private final int threads;
  private final AtomicBoolean stop;
  private final Progress progress;
  private final ExecutorService pool;
  private int done;

  /**
   * Creates a collector.
   *
   * @param threads number of threads
   * @param stop set to begin no more flights
   */
  FlightCollector(Tuner tuner, int threads, AtomicBoolean stop, Progress progress) {
    this.tuner = tuner;
    this.threads = threads;
    this.stop = stop;
    this.progress = progress;
    pool = Executors.newFixedThreadPool(threads);
  }

  /**
   * Evaluates logs. Among several, an unusable one is left out; a single one is a fault.
   *
   * @param leftOut receives the reasons
   * @return number of logs used
   */
  int logs(List<Path> logs, FlightPass pass, List<String> leftOut) throws InterruptedException {
    List<Callable<Tuner.Judged>> tasks = new ArrayList<>();
    for (Path log : logs) {
      tasks.add(() -> tuner.judge(pass.run(log), false));
    }
    return run(tasks, logs.size() > 1 ? leftOut : null);
  }

  /** Evaluates simulated flights of a craft. */
  void simulated(CraftProfile profile) throws InterruptedException {
    List<Callable<Tuner.Judged>> tasks = new ArrayList<>();
    for (int i = 0; i < SimulatedFlights.count(); i++) {
      int number = i;
      tasks.add(() -> tuner.judge(SimulatedFlights.fly(profile, number), true));
    }
    run(tasks, null);
  }

  /** Starts only a few tasks ahead of those added, to bound the memory. */
  private int run(List<Callable<Tuner.Judged>> tasks, List<String> leftOut)
      throws InterruptedException {
    Queue<Future<Tuner.Judged>> begun = new ArrayDeque<>();
    int next = 0;
    int taken = 0;
    while (true) {
      while (next < tasks.size() && begun.size() < 2 * threads && !stop.get()) {
        begun.add(pool.submit(tasks.get(next++)));
      }
      if (begun.isEmpty()) {
        return taken;
      }
      try {
        tuner.add(begun.remove().get());
      } catch (ExecutionException e) {
        rethrow(e.getCause(), leftOut);
      }
      taken++;
      progress.step(++done);
    }
  }

  private static void rethrow(Throwable cause, List<String> leftOut) {
    if (cause instanceof InputFault fault) {
      if (leftOut == null) {
        throw fault;
      }
      leftOut.add(fault.getMessage());
    } else if (cause instanceof WrongEdit wrong) {
      throw wrong;
    } else if (cause instanceof IOException io) {
      throw new UncheckedIOException(io);
    } else {
      throw new IllegalStateException("a flight could not be evaluated: " + cause, cause);
    }
  }

  @Override
  public void close() {
    pool.shutdownNow();
  }
}
