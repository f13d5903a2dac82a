package org.solarmargin.sim.trial;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.IntConsumer;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.timing.CommandTiming;

/**
 * Flies random variations of scenarios in parallel. The seed of each flight is derived from the
 * trial's seed, its scenario and its number, so that the result does not depend on the number of
 * threads.
 */
public final class TrialRunner {

  /** The flights in which the throttle is limited to the ceiling. */
  public enum Limiter {
    /** None. */
    OFF,
    /** All. */
    ON,
    /** Each flight twice, without and with, from the same seed. */
    BOTH
  }

  private final List<SetupMaker> makers;
  private final CraftProfile profile;
  private final int flights;
  private final long seed;
  private final Limiter limiter;
  private final AtomicBoolean stop = new AtomicBoolean();

  /**
   * Creates a trial.
   *
   * @param makers one for each scenario
   * @param profile the craft
   * @param flights number of flights of each scenario
   * @param seed seed of all random numbers
   * @param limiter flights in which the throttle is limited
   */
  public TrialRunner(
      List<SetupMaker> makers, CraftProfile profile, int flights, long seed, Limiter limiter) {
    this.makers = List.copyOf(makers);
    this.profile = profile;
    this.flights = flights;
    this.seed = seed;
    this.limiter = limiter;
  }

  /** Requests that the trial ends after the flights in progress; may be called by any thread. */
  public void stop() {
    stop.set(true);
  }

  /**
   * Whether the trial was requested to end early.
   *
   * @return true after {@link #stop}
   */
  public boolean stopped() {
    return stop.get();
  }

  /**
   * Flies all flights.
   *
   * @param threads number of threads, 1 or more
   * @param done receives the number of flights done; called by one thread
   * @return outcomes in the order of scenario, flight, limiter; fewer if stopped
   * @throws InterruptedException if the calling thread is interrupted
   */
  public List<Outcome> run(int threads, IntConsumer done) throws InterruptedException {
    ExecutorService pool = Executors.newFixedThreadPool(threads);
    try {
      List<Future<List<Outcome>>> futures = new ArrayList<>();
      for (int i = 0; i < makers.size(); i++) {
        for (int j = 0; j < flights; j++) {
          int scenario = i;
          int flight = j;
          futures.add(pool.submit(() -> fly(scenario, flight)));
        }
      }
      List<Outcome> outcomes = new ArrayList<>();
      int count = 0;
      for (Future<List<Outcome>> future : futures) {
        outcomes.addAll(await(future));
        done.accept(++count);
      }
      return outcomes;
    } finally {
      pool.shutdownNow();
    }
  }

  private static List<Outcome> await(Future<List<Outcome>> future) throws InterruptedException {
    try {
      return future.get();
    } catch (ExecutionException e) {
      throw new IllegalStateException("a simulated flight failed: " + e.getCause(), e.getCause());
    }
  }

  private List<Outcome> fly(int scenario, int flight) {
    List<Outcome> outcomes = new ArrayList<>();
    if (stop.get()) {
      return outcomes;
    }
    long own = mix(mix(seed + scenario) + flight);
    if (limiter != Limiter.ON) {
      outcomes.add(flyOne(scenario, flight, own, false));
    }
    if (limiter != Limiter.OFF) {
      outcomes.add(flyOne(scenario, flight, own, true));
    }
    return outcomes;
  }

  private Outcome flyOne(int scenario, int flight, long own, boolean hold) {
    FlightSetup setup = makers.get(scenario).varied(own);
    FlightJudge judge = new FlightJudge(withStatedTiming(setup), setup.plan(), hold);
    new Flight(setup, own).fly(judge);
    return judge.outcome(scenario, flight);
  }

  /**
   * States simultaneous readings in the profile if the readings are immediate and the profile does
   * not state a time model: the cost of finding it is measured by the flights with loggers.
   */
  private CraftProfile withStatedTiming(FlightSetup setup) {
    boolean immediate =
        setup.sensors().volts().timing().immediate()
            && setup.sensors().amps().timing().immediate()
            && setup.command().equals(CommandTiming.IMMEDIATE);
    boolean stated = profile.settings().timing().known();
    return immediate && !stated ? profile.withTiming(TimeModel.SIMULTANEOUS) : profile;
  }

  /** Finaliser of MurmurHash3, which decorrelates neighbouring seeds. */
  private static long mix(long value) {
    long z = value;
    z = (z ^ (z >>> 33)) * 0xff51afd7ed558ccdL;
    z = (z ^ (z >>> 33)) * 0xc4ceb9fe1a85ec53L;
    return z ^ (z >>> 33);
  }
}
