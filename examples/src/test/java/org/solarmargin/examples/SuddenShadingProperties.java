package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.jqwik.Flights;
import org.solarmargin.jqwik.SimulatedFlight;
import org.solarmargin.jqwik.Skies;
import org.solarmargin.sim.flight.LossOfLift;

/**
 * A property test of sudden shading for your own craft: for any cloud and any deviation of the
 * craft from its profile, a WARNING precedes a loss of lift.
 *
 * <p>If the property is violated, jqwik reports the mildest flight that violates it, as a scenario
 * file that {@code simulate} and {@code rehearse} can fly again.
 */
class SuddenShadingProperties {

  private final CraftProfile craft;

  SuddenShadingProperties() throws IOException {
    craft =
        CraftProfile.read(Path.of("stilt", "stilt.properties"))
            .withTiming(TimeModel.SIMULTANEOUS); // the readings are neither filtered nor delayed
  }

  @Provide
  Arbitrary<SimulatedFlight> shadedFlights() {
    return Flights.hovers(craft, Skies.suddenShading());
  }

  @Property(tries = 25, seed = "1")
  void aLossIsWarnedOfBeforeItBegins(@ForAll("shadedFlights") SimulatedFlight flight) {
    MarginMonitor monitor =
        new MarginMonitor(craft.settings(), craft.rules(), (t, l, raised, why, m, z) -> {});
    double[] pastSince = {Double.NaN};
    AlertLevel[] atKnee = {AlertLevel.NONE};
    flight.fly(
        s -> {
          long nanos = Math.round(s.seconds * 1e9);
          monitor.update(nanos, s.busVolts, s.busAmps, s.throttle);
          boolean past = s.heightMetres > 0.3 && LossOfLift.pastKnee(s.trueVolts, s.peakVolts);
          if (past && Double.isNaN(pastSince[0])) {
            pastSince[0] = s.seconds;
            atKnee[0] = monitor.level();
          }
          pastSince[0] = past ? pastSince[0] : Double.NaN;
          boolean lost = s.seconds - pastSince[0] >= 0.3; // as in the trials, LossOfLift.SECONDS
          assertTrue(!lost || atKnee[0] == AlertLevel.WARNING, "lost with " + atKnee[0]);
          return 1;
        });
  }
}
