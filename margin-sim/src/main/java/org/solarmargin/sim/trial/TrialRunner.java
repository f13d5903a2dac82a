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
 * Flies random variations of scenarios on all cores. Every flight has its own seed from the trial's
 * seed, its scenario and its number, so that the result does not depend on the number of threads.
 */
public final class TrialRunner {

  /** Which flights hold the throttle under the ceiling. */
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
   * A trial.
   *
   * @param makers one for each scenario
   * @param profile the craft
   * @param flights of each scenario
   * @param seed of all randomness
   * @param limiter which flights hold the throttle
   */
  public TrialRunner(
      List<SetupMaker> makers, CraftProfile profile, int flights, long seed, Limiter limiter) {
    this.makers = List.copyOf(makers);
    this.profile = profile;
    this.flights = flights;
    this.seed = seed;
    this.limiter = limiter;
  }

  /** Asks the trial to end after the flights under way; may be called by any thread. */
  public void stop() {
    stop.set(true);
  }

  /**
   * Whether it was asked to end early.
   *
   * @return true after {@link #stop}
   */
  public boolean stopped() {
    return stop.get();
  }

  /**
   * Flies.
   *
   * @param threads how many at a time, 1 or more
   * @param done told how many flights are done; from one thread
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
    FlightJudge judge = new FlightJudge(knowing(setup), setup.plan(), hold);
    new Flight(setup, own).fly(judge);
    return judge.outcome(scenario, flight);
  }

  /**
   * Where readings come at once, and the profile is silent, the monitor is told so: what a logger
   * costs that has to be found is a matter of the flights with loggers.
   */
  private CraftProfile knowing(FlightSetup setup) {
    boolean immediate =
        setup.sensors().volts().timing().immediate()
            && setup.sensors().amps().timing().immediate()
            && setup.command().equals(CommandTiming.IMMEDIATE);
    boolean told = profile.settings().timing().known();
    return immediate && !told ? profile.withTiming(TimeModel.SIMULTANEOUS) : profile;
  }

  /** Finaliser of MurmurHash3, to spread neighbouring seeds. */
  private static long mix(long value) {
    long z = value;
    z = (z ^ (z >>> 33)) * 0xff51afd7ed558ccdL;
    z = (z ^ (z >>> 33)) * 0xc4ceb9fe1a85ec53L;
    return z ^ (z >>> 33);
  }
}
