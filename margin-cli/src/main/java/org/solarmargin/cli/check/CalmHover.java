package org.solarmargin.cli.check;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/** A simulated minute in hover, and the width of the interval that a profile gives on it. */
final class CalmHover {

  private static final String SCENARIO =
      "plan = 10:60\nsky.suns = 0.95\nair.wind_m_s = 1\nair.turbulence_w20_m_s = 2\n";

  /**
   * Seconds from which the width is averaged, after the filter has settled: engineering judgement.
   */
  private static final double JUDGED_FROM = 40;

  private static final double NANOS = 1e9;

  private final List<double[]> samples = new ArrayList<>();

  CalmHover(CraftProfile profile) throws IOException {
    Scenario scenario = Scenario.of(new StrictProperties("calm hover", SCENARIO), profile);
    new Flight(new SetupMaker(scenario, profile).asStated(1), 1)
        .fly(
            s -> {
              if (!s.missing) {
                samples.add(new double[] {s.seconds, s.busVolts, s.busAmps, s.throttle});
              }
              return 1;
            });
  }

  /** Mean gap between estimate and lower bound, percent; NaN if there is no estimate. */
  double gapPercent(CraftProfile profile) {
    CraftProfile timed =
        profile.settings().timing().known() ? profile : profile.withTiming(TimeModel.SIMULTANEOUS);
    MarginMonitor monitor =
        new MarginMonitor(timed.settings(), timed.rules(), (t, l, r, w, m, z) -> {});
    double sum = 0;
    int count = 0;
    for (double[] s : samples) {
      monitor.update(Math.round(s[0] * NANOS), s[1], s[2], s[3]);
      double watts = monitor.reading().availableWatts();
      if (s[0] > JUDGED_FROM && watts > 0) {
        sum += 1 - monitor.reading().availableLowWatts() / watts;
        count++;
      }
    }
    return 100 * sum / count;
  }
}
