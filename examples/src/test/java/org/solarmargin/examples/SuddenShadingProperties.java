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
 * A property test of sudden shading for one's own craft: whatever cloud comes over whatever the
 * craft really is, a loss of lift is warned of before it begins.
 *
 * <p>If the property breaks, jqwik reports the mildest flight that breaks it, as a scenario file
 * that {@code simulate} and {@code rehearse} fly again.
 */
class SuddenShadingProperties {

  private final CraftProfile craft;

  SuddenShadingProperties() throws IOException {
    craft =
        CraftProfile.read(Path.of("stilt", "stilt.properties"))
            .withTiming(TimeModel.SIMULTANEOUS); // the logger's readings are not filtered or late
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
          boolean lost = s.seconds - pastSince[0] >= 0.3; // as the trials count losses
          assertTrue(!lost || atKnee[0] == AlertLevel.WARNING, "lost with " + atKnee[0]);
          return 1;
        });
  }
}
