package org.solarmargin.jqwik;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.Optional;
import java.util.Random;
import java.util.function.Predicate;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.Shrinkable;
import org.solarmargin.core.profile.CraftProfile;

/** Generated flights can be flown, and counterexamples shrink to mild ones. */
class FlightsProperties {

  private static final CraftProfile STILT = stilt();

  private static CraftProfile stilt() {
    try {
      return CraftProfile.read(Path.of("..", "..", "examples", "stilt", "stilt.properties"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Readings are finite, and a craft takes off if hover leaves a third of the available power. */
  @Property(tries = 12, seed = "41")
  void anyCraftFlies(@ForAll("anyFlights") SimulatedFlight flight) {
    double hoverWatts = flight.profile().settings().rotor().hoverWatts();
    double[] load = {0};
    double[] height = {0};
    flight.fly(
        s -> {
          assertTrue(Double.isFinite(s.busVolts) && Double.isFinite(s.busAmps));
          load[0] = s.seconds < 6 ? Math.max(load[0], hoverWatts / s.availableWatts) : load[0];
          height[0] = Math.max(height[0], s.heightMetres);
          return 1;
        });
    assertTrue(height[0] > 4 || load[0] > 0.67, () -> height[0] + " m at a load of " + load[0]);
  }

  @Provide
  Arbitrary<SimulatedFlight> anyFlights() {
    return Crafts.profiles().flatMap(craft -> Flights.missions(craft, Skies.any()));
  }

  @Property(tries = 5, seed = "42")
  void theSameFlightGivesTheSameBits(@ForAll("hovers") SimulatedFlight flight) {
    assertEquals(sum(flight), sum(flight), 0);
  }

  @Provide
  Arbitrary<SimulatedFlight> hovers() {
    return Flights.hovers(STILT, Skies.any());
  }

  private static double sum(SimulatedFlight flight) {
    double[] sum = {0};
    flight.fly(
        s -> {
          sum[0] += s.busVolts * s.busAmps;
          return 1;
        });
    return sum[0];
  }

  /** A property that fails for deep shadows shrinks to a depth of 0.5 with all else mild. */
  @Example
  void aDeepShadowShrinksToTheShallowestThatStillFailsInMildWeather() {
    SimulatedFlight least =
        shrunk(
            Flights.hovers(STILT, Skies.suddenShading()),
            flight -> value(flight, "sky.depth") >= 0.5);
    assertEquals(1, least.seed());
    assertEquals(
        """
        plan = 10:30
        sky.kind = cloud
        sky.suns = 1.00
        sky.depth = 0.50
        sky.start_s = 10.0
        sky.length_m = 20
        sky.edge_m = 100
        sky.speed_m_s = 9.0
        sky.enhancement = 0.00
        air.wind_m_s = 0.0
        air.turbulence_w20_m_s = 0.0
        air.temp_c = 22.0
        air.site_m = 0
        craft.mass_factor = 1.000
        array.all_photocurrent = 1.000
        array.all_series = 1.00
        sensor.voltage_gain = 1.0000
        sensor.current_gain = 1.0000
        sensor.current_offset_a = 0.000
        craft.copper_share = 0.060
        craft.motor_lag_s = 0.120
        """
            .strip(),
        least.scenario().toString());
  }

  @Example
  void anySkyShrinksToSteadyLight() {
    SimulatedFlight least = shrunk(Flights.hovers(STILT, Skies.any()), flight -> true);
    assertTrue(
        least.toString().contains("sky.kind = constant\nsky.suns = 1.00\n"), least::toString);
  }

  /** Shrinks as the engine does: step by step to the nearest value that still fails. */
  private static <T> T shrunk(Arbitrary<T> arbitrary, Predicate<T> fails) {
    Random random = new Random(7);
    Shrinkable<T> worst = arbitrary.generator(1000, false).next(random);
    while (!fails.test(worst.value())) {
      worst = arbitrary.generator(1000, false).next(random);
    }
    while (true) {
      Shrinkable<T> now = worst;
      Optional<Shrinkable<T>> better =
          now.shrink()
              .filter(s -> s.distance().compareTo(now.distance()) < 0 && fails.test(s.value()))
              .min(Comparator.comparing(Shrinkable::distance));
      if (better.isEmpty()) {
        return now.value();
      }
      worst = better.get();
    }
  }

  private static double value(SimulatedFlight flight, String key) {
    String start = key + " = ";
    return flight.scenario().lines().stream()
        .filter(line -> line.startsWith(start))
        .mapToDouble(line -> Double.parseDouble(line.substring(start.length())))
        .findFirst()
        .orElseThrow();
  }
}
