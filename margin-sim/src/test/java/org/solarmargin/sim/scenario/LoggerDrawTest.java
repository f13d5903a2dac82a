package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.DoubleSummaryStatistics;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.sensor.ChannelErrors;

class LoggerDrawTest {

  private static CraftProfile craft;

  @BeforeAll
  static void readTheCraft() throws Exception {
    craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
  }

  private static Scenario scenario(String keys) {
    return Scenario.of(new StrictProperties("test", "plan = 10:10\n" + keys), craft);
  }

  private static void note(Map<String, DoubleSummaryStatistics> seen, String name, double value) {
    seen.computeIfAbsent(name, n -> new DoubleSummaryStatistics()).accept(value);
  }

  private static void note(
      Map<String, DoubleSummaryStatistics> seen, String name, ChannelErrors channel) {
    note(seen, name + " filter", channel.timing().filterSeconds());
    note(seen, name + " delay", channel.timing().delaySeconds());
    note(seen, name + " hertz", 1 / channel.timing().periodSeconds());
    note(seen, name + " step", channel.roundingStep());
  }

  private static void fills(
      Map<String, DoubleSummaryStatistics> seen, String name, double low, double high) {
    DoubleSummaryStatistics s = seen.get(name);
    double width = high - low;
    assertTrue(s.getMin() >= low - 1e-9 && s.getMin() < low + 0.02 * width, name + ": " + s);
    assertTrue(s.getMax() <= high + 1e-9 && s.getMax() > high - 0.02 * width, name + ": " + s);
  }

  @Test
  void drawsFillTheStatedRanges() throws Exception {
    SetupMaker maker = new SetupMaker(scenario("").withDrawnLogger(), craft);
    Map<String, DoubleSummaryStatistics> seen = new HashMap<>();
    for (int seed = 0; seed < 1000; seed++) {
      FlightSetup setup = maker.varied(seed);
      ChannelErrors volts = setup.sensors().volts();
      ChannelErrors amps = setup.sensors().amps();
      note(seen, "volts", volts);
      note(seen, "amps", amps);
      double difference = amps.timing().filterSeconds() - volts.timing().filterSeconds();
      note(seen, "difference", difference);
      note(seen, "command lag", setup.command().lagSeconds());
      note(seen, "command delay", setup.command().delaySeconds());
      note(seen, "throttle step", setup.log().throttleStep());
      assertEquals(volts.timing().periodSeconds(), amps.timing().periodSeconds());
    }
    for (String channel : new String[] {"volts", "amps"}) {
      fills(seen, channel + " filter", 0, 0.3);
      fills(seen, channel + " delay", 0, 0.08);
      fills(seen, channel + " hertz", 5, 50);
      fills(seen, channel + " step", 0, 0.05);
    }
    fills(seen, "difference", -0.1, 0.1);
    fills(seen, "command lag", 0, 0.1);
    fills(seen, "command delay", 0, 0.06);
    fills(seen, "throttle step", 0, 0.01);
  }

  /** The logger is drawn last, so that flights with and without it can be compared. */
  @Test
  void theDrawChangesOnlyTheLogger() throws Exception {
    Scenario stated = scenario("sky.kind = cloud\nlog.sample_hz = 25\nsensor.spike_share = 0.01\n");
    FlightSetup plain = new SetupMaker(stated, craft).varied(7);
    FlightSetup drawn = new SetupMaker(stated.withDrawnLogger(), craft).varied(7);
    assertEquals(plain.airframe(), drawn.airframe());
    assertEquals(plain.air(), drawn.air());
    assertEquals(plain.layout(), drawn.layout());
    assertEquals(plain.sensors().faults(), drawn.sensors().faults());
    assertEquals(plain.sensors().volts().gain(), drawn.sensors().volts().gain());
    assertEquals(plain.sensors().amps().offset(), drawn.sensors().amps().offset());
    assertEquals(plain.sky().suns(30), drawn.sky().suns(30));
    assertEquals(25, drawn.log().sampleHertz());
  }

  @Test
  void aSeedDrawsTheSameLoggerEachTime() throws Exception {
    SetupMaker maker = new SetupMaker(scenario("trial.logger = on\n"), craft);
    assertEquals(maker.varied(5).sensors(), maker.varied(5).sensors());
    assertEquals(maker.varied(5).command(), maker.varied(5).command());
    assertEquals(
        scenario("").sensors().volts().timing(), maker.asStated(5).sensors().volts().timing());
  }
}
