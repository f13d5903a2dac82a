package org.solarmargin.jqwik;

import java.io.IOException;
import java.io.UncheckedIOException;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightWatcher;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * A flight to simulate. Its text is a scenario file: saved as {@code F}, {@code margin.jar simulate
 * F --craft PROFILE --seed SEED} flies the same flight, bit for bit, and writes its log.
 *
 * @param profile the profile of the craft
 * @param scenario everything else, including deviations of the craft from its profile
 * @param seed seed of gusts, sensor noise and the layout of a broken sky
 */
public record SimulatedFlight(CraftProfile profile, ScenarioPart scenario, long seed) {

  /**
   * Flies it from start to end.
   *
   * @param watcher receives every sample and may limit the throttle
   */
  public void fly(FlightWatcher watcher) {
    Scenario read = Scenario.of(new StrictProperties("drawn flight", scenario + "\n"), profile);
    try {
      new Flight(new SetupMaker(read, profile).asStated(seed), seed).fly(watcher);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The scenario file, with the craft's name and the seed in comments. */
  @Override
  public String toString() {
    return "\n# craft: " + profile.name() + "\n# --seed " + seed + "\n" + scenario + "\n";
  }
}
