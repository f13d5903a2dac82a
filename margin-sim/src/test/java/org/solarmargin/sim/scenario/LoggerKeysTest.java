package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.LogSpec;
import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.ReadingTiming;

class LoggerKeysTest {

  private static CraftProfile craft;

  @BeforeAll
  static void readTheCraft() throws Exception {
    craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
  }

  private static Scenario read(String keys) {
    return Scenario.of(new StrictProperties("test", "plan = 10:10\n" + keys), craft);
  }

  @ParameterizedTest
  @CsvSource({
    "sensor.voltage_filter_s, 0, 3",
    "sensor.current_filter_s, 0, 3",
    "sensor.voltage_delay_s, 0, 0.5",
    "sensor.current_delay_s, 0, 0.5",
    "sensor.voltage_period_s, 0, 2",
    "sensor.current_period_s, 0, 2",
    "sensor.voltage_step_v, 0, 10",
    "sensor.current_step_a, 0, 10",
    "sensor.lag_s, 0, 1",
    "craft.command_lag_s, 0, 1",
    "craft.command_delay_s, 0, 0.5",
    "log.throttle_step, 0, 0.1",
    "log.throttle_power, 0.3, 3"
  })
  void valuesOutOfRangeAreRefused(String key, String low, String high) {
    read(key + " = " + low + "\n");
    read(key + " = " + high + "\n");
    double beyond = 1.001 * Double.parseDouble(high);
    double below = Double.parseDouble(low) - 0.001;
    for (String bad : new String[] {Double.toString(beyond), Double.toString(below), "NaN"}) {
      PropertiesException e =
          assertThrows(PropertiesException.class, () -> read(key + " = " + bad + "\n"));
      String rule = "line 2: " + key + " must be in [" + low + ", " + high + "]: " + bad;
      assertTrue(e.getMessage().contains(rule), e.getMessage());
    }
  }

  @Test
  void unknownShapesAreRefused() {
    PropertiesException e =
        assertThrows(
            PropertiesException.class, () -> read("sensor.current_filter_shape = median\n"));
    String rule =
        "sensor.current_filter_shape must be first_order, second_order or average: median";
    assertTrue(e.getMessage().contains(rule), e.getMessage());
  }

  @Test
  void withoutTheKeysEverythingIsImmediate() {
    Scenario scenario = read("");
    assertEquals(ReadingTiming.IMMEDIATE, scenario.sensors().volts().timing());
    assertEquals(ReadingTiming.IMMEDIATE, scenario.sensors().amps().timing());
    assertEquals(CommandTiming.IMMEDIATE, scenario.craft().command());
    assertEquals(LogSpec.plain(50), scenario.log());
  }

  @Test
  void theCommonLagIsTheFilterOfAChannelThatStatesNone() {
    Scenario scenario =
        read(
            """
            sensor.lag_s = 0.1
            sensor.current_filter_s = 0.3
            sensor.current_filter_shape = second_order
            """);
    assertEquals(
        new ReadingTiming(FilterShape.FIRST_ORDER, 0.1, 0, 0), scenario.sensors().volts().timing());
    assertEquals(
        new ReadingTiming(FilterShape.SECOND_ORDER, 0.3, 0, 0), scenario.sensors().amps().timing());
  }
}
