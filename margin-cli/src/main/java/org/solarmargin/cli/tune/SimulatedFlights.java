package org.solarmargin.cli.tune;

import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.cli.tune.rule.JudgedFlight;
import org.solarmargin.cli.tune.rule.TrueLosses;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.core.verdict.Verdict;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSample;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * Simulated flights of the same craft, used where few real events were logged: a slow fade, a fast
 * cloud edge and a broken sky, with light and craft varied. Events are taken from the truth.
 */
public final class SimulatedFlights {

  /** Flights of each kind: engineering judgement. */
  static final int EACH = 12;

  private static final long SEED = 20_260_101;

  private static final List<String> SCENARIOS =
      List.of(
          """
          scenario.title = fade
          plan = 10:110
          sky.kind = ramps
          sky.suns = 0.95
          sky.low_suns = 0.38
          sky.suns_per_s = 0.008
          sky.start_s = 20
          sky.repeats = 0
          """,
          """
          scenario.title = edge
          plan = 10:60
          sky.kind = ramps
          sky.suns = 0.95
          sky.low_suns = 0.36
          sky.suns_per_s = 0.06
          sky.start_s = 30
          sky.repeats = 0
          """,
          """
          scenario.title = broken
          plan = 10:240
          sky.kind = broken
          sky.suns = 1.05
          sky.cover = 0.35
          sky.depth = 0.22
          sky.edge_m = 60
          sky.speed_m_s = 7
          """);

  private SimulatedFlights() {}

  /** Number of flights. */
  static int count() {
    return EACH * SCENARIOS.size();
  }

  /** Flies one of them and evaluates it with the estimator. */
  public static JudgedFlight fly(CraftProfile profile, int number) {
    String text = SCENARIOS.get(number % SCENARIOS.size());
    Scenario scenario = Scenario.of(new StrictProperties("built-in scenario", text), profile);
    long seed = SEED + number;
    FlightSetup setup = maker(scenario, profile).varied(seed);
    JudgedFlight flight =
        new JudgedFlight(
            String.format(
                Locale.ROOT, "simulated %s %d", scenario.title(), number / SCENARIOS.size()));
    MarginMonitor monitor =
        new MarginMonitor(profile.settings(), profile.rules(), (t, l, r, w, m, z) -> {});
    TrueLosses losses = new TrueLosses();
    new Flight(setup, seed)
        .fly(
            sample -> {
              take(sample, monitor, flight, losses);
              return 1;
            });
    // a lost craft does not recover, so only the first loss is an event
    flight.finish(losses.finish().stream().limit(1).toList(), List.of());
    return flight;
  }

  private static SetupMaker maker(Scenario scenario, CraftProfile profile) {
    try {
      return new SetupMaker(scenario, profile);
    } catch (java.io.IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private static void take(
      FlightSample sample, MarginMonitor monitor, JudgedFlight flight, TrueLosses losses) {
    if (sample.missing) {
      return;
    }
    Verdict verdict =
        monitor.update(
            Math.round(sample.seconds * 1e9), sample.busVolts, sample.busAmps, sample.throttle);
    flight.add(sample.seconds, sample.busVolts, monitor, Verdicts.usable(verdict));
    losses.take(sample.seconds, sample.throttle, sample.trueVolts, sample.peakVolts);
  }
}
