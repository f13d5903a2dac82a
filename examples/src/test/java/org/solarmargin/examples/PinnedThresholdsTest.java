package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;

/**
 * Pins the alert thresholds of a profile: replays a recorded flight and states which alerts must be
 * raised, and when. It shows the effect of a change of a threshold, a sensor's sigma or the library
 * on a recorded flight (here a demo flight into haze, which ends past the knee at 97.3 s).
 */
class PinnedThresholdsTest {

  @Test
  void theFadeRaisesItsAlertsInTime() throws IOException {
    CraftProfile craft =
        CraftProfile.read(Path.of("stilt", "stilt.properties"))
            .withTiming(TimeModel.SIMULTANEOUS); // the readings are neither filtered nor delayed
    List<String> raised = new ArrayList<>();
    MarginMonitor monitor =
        new MarginMonitor(
            craft.settings(),
            craft.rules(),
            (nanos, level, isRaised, reason, margin, toZero) -> {
              if (isRaised) {
                raised.add(String.format(Locale.ROOT, "%.1f %s %s", nanos * 1e-9, level, reason));
              }
            });
    List<String> log = Files.readAllLines(Path.of("flights", "slow-fade.csv"));
    for (String line : log.subList(1, log.size())) {
      String[] column = line.split(",", -1); // time_s, bus_v, bus_a, throttle
      monitor.update(
          Math.round(Double.parseDouble(column[0]) * 1e9),
          Double.parseDouble(column[1]),
          Double.parseDouble(column[2]),
          Double.parseDouble(column[3]));
    }
    assertEquals(
        List.of("59.8 CAUTION LOW_MARGIN", "60.0 WARNING LOW_MARGIN", "95.0 WARNING LOW_MARGIN"),
        raised);
  }
}
