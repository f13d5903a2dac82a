package org.solarmargin.jqwik;

import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Arbitraries of simulated flights of a craft: a plan, a sky, air ({@link Airs#around}) and
 * deviations of the craft from its profile ({@link Crafts#asBuilt}).
 *
 * <p>The simulation is some thousand times faster than real time; the duration of the flights and
 * the number of tries determine how long a property takes. The seed is 1 to 100,000 and shrinks
 * towards 1.
 */
public final class Flights {

  private static final int SEEDS = 100_000;

  private Flights() {}

  /**
   * Hovers of 30 to 60 s (shrinks towards 30) at 10 m, in the air from the first sample.
   *
   * @param profile the craft
   * @param sky for example {@link Skies#suddenShading()}
   * @return flights
   */
  public static Arbitrary<SimulatedFlight> hovers(
      CraftProfile profile, Arbitrary<ScenarioPart> sky) {
    Arbitrary<ScenarioPart> plan =
        Arbitraries.integers()
            .between(30, 60)
            .shrinkTowards(30)
            .map(seconds -> ScenarioPart.of("plan = 10:" + seconds));
    return of(profile, List.of(plan, sky, Airs.around(profile), Crafts.asBuilt(profile)));
  }

  /**
   * Take-off after 4 s, 20 to 50 s at 5 to 30 m (shrinks towards 20 s at 5 m), and a landing.
   *
   * @param profile the craft
   * @param sky for example {@link Skies#any()}
   * @return flights
   */
  public static Arbitrary<SimulatedFlight> missions(
      CraftProfile profile, Arbitrary<ScenarioPart> sky) {
    Arbitrary<ScenarioPart> plan =
        Combinators.combine(
                Arbitraries.integers().between(5, 30), Arbitraries.integers().between(20, 50))
            .as(
                (metres, seconds) ->
                    ScenarioPart.of("plan = 0:4, " + metres + ":" + seconds + ", 0:30"));
    return of(profile, List.of(plan, sky, Airs.around(profile), Crafts.asBuilt(profile)));
  }

  /**
   * Flights composed of parts that together form a scenario, which needs at least a {@code plan}.
   *
   * @param profile the craft
   * @param parts parts of the scenario; each key may occur in only one of them
   * @return flights
   */
  public static Arbitrary<SimulatedFlight> of(
      CraftProfile profile, List<Arbitrary<ScenarioPart>> parts) {
    return Combinators.combine(Keys.join(parts), Arbitraries.longs().between(1, SEEDS))
        .as((scenario, seed) -> new SimulatedFlight(profile, scenario, seed));
  }
}
