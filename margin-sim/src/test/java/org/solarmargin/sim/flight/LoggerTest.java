package org.solarmargin.sim.flight;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.craft.MotorController;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.timing.CommandTiming;

/** The contents and timing of the log of a flight. */
class LoggerTest {

  private static final String QUIET =
      """
      plan = 10:30
      sensor.voltage_noise_v = 0
      sensor.current_noise_a = 0
      sensor.voltage_step_v = 0
      sensor.current_step_a = 0
      """;

  private static CraftProfile craft;

  private record Line(
      double seconds,
      double volts,
      double amps,
      double throttle,
      double trueVolts,
      double trueAmps,
      double ceiling,
      double height) {}

  @BeforeAll
  static void readTheCraft() throws Exception {
    craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
  }

  private static List<Line> fly(String keys) throws Exception {
    Scenario scenario = Scenario.of(new StrictProperties("test", QUIET + keys), craft);
    List<Line> lines = new ArrayList<>();
    new Flight(new SetupMaker(scenario, craft).asStated(3), 3)
        .fly(
            s -> {
              lines.add(
                  new Line(
                      s.seconds,
                      s.busVolts,
                      s.busAmps,
                      s.throttle,
                      s.trueVolts,
                      s.demandWatts / s.trueVolts,
                      s.ceiling,
                      s.heightMetres));
              return 1;
            });
    return lines;
  }

  @Test
  void aDelayShiftsOneChannelByWholeSamples() throws Exception {
    List<Line> late = fly("sensor.current_delay_s = 0.06\n");
    for (int i = 3; i < late.size(); i++) {
      assertEquals(late.get(i).trueVolts(), late.get(i).volts(), "the voltage is not delayed");
      assertEquals(late.get(i - 3).trueAmps(), late.get(i).amps(), 1e-12, "sample " + i);
    }
  }

  @Test
  void aHeldPairIsFreshEveryPeriod() throws Exception {
    List<Line> held = fly("sensor.voltage_period_s = 0.1\nsensor.current_period_s = 0.1\n");
    for (int i = 0; i < held.size(); i++) {
      Line fresh = held.get(i - i % 5);
      assertEquals(fresh.trueVolts(), held.get(i).volts(), "sample " + i);
      assertEquals(fresh.trueAmps(), held.get(i).amps(), 1e-12, "sample " + i);
    }
  }

  /** Sensors do not influence the flight. */
  @Test
  void theLoggerDoesNotAffectTheFlight() throws Exception {
    List<Line> plain = fly("");
    List<Line> logged =
        fly(
            """
            sensor.lag_s = 0.2
            sensor.voltage_delay_s = 0.05
            sensor.current_period_s = 0.2
            log.throttle_step = 0.01
            log.throttle_power = 2
            """);
    double hover = craft.settings().rotor().hoverThrottle();
    for (int i = 0; i < plain.size(); i++) {
      assertEquals(plain.get(i).trueVolts(), logged.get(i).trueVolts());
      double thrust = hover * Math.pow(plain.get(i).throttle() / hover, 2);
      assertEquals(Math.rint(100 * thrust) / 100, logged.get(i).throttle(), 1e-12);
      double ceiling = hover * Math.pow(plain.get(i).ceiling() / hover, 2);
      assertEquals(Math.min(ceiling, 1), logged.get(i).ceiling(), 1e-12);
    }
  }

  @Test
  void theCommandIsDelayedAndLagged() {
    MotorController controller = new MotorController(new CommandTiming(0.1, 0.06), 0.005, 0.4);
    for (int i = 0; i < 200; i++) {
      double since = Math.max(i * 0.005 - 0.06, 0);
      double exact = 0.6 - 0.2 * Math.exp(-since / 0.1);
      assertEquals(exact, controller.follow(0.6), 1e-12, "step " + i);
    }
    MotorController atOnce = new MotorController(CommandTiming.IMMEDIATE, 0.005, 0.4);
    assertEquals(0.6, atOnce.follow(0.6));
    assertEquals(0.1, atOnce.follow(0.1));
  }

  /**
   * The throttle changes the current at once unless the command is delayed: the correlation of
   * their changes from sample to sample is then largest two samples (0.04 s) later.
   */
  @Test
  void theBusFollowsTheDelayedCommand() throws Exception {
    assertEquals(0, bestShift(fly("")));
    assertEquals(2, bestShift(fly("craft.command_delay_s = 0.04\n")));
    List<Line> slow = fly("craft.command_delay_s = 0.04\ncraft.command_lag_s = 0.1\n");
    assertTrue(
        slow.stream().allMatch(l -> Math.abs(l.height() - 10) < 1),
        "the height control still works");
  }

  private static int bestShift(List<Line> lines) {
    int best = -1;
    double most = 0;
    for (int shift = 0; shift < 6; shift++) {
      double sum = 0;
      for (int i = 10; i < lines.size(); i++) {
        double move = lines.get(i - shift).throttle() - lines.get(i - shift - 1).throttle();
        sum += move * (lines.get(i).trueAmps() - lines.get(i - 1).trueAmps());
      }
      if (sum > most) {
        most = sum;
        best = shift;
      }
    }
    return best;
  }

  @Test
  void aLimitUsesTheScaleOfTheLog() {
    LoggedThrottle thrust = new LoggedThrottle(new LogSpec(50, 0.01, 2), 0.5);
    assertEquals(0.72, thrust.curved(0.6), 1e-12);
    assertEquals(0.6, thrust.command(0.72), 1e-12);
    assertEquals(0.5, thrust.logged(0.502));
    assertEquals(1, thrust.logged(0.9), "limited to the range of the log");
    assertEquals(1, thrust.command(1), "1 means no limit");
    LoggedThrottle plain = new LoggedThrottle(LogSpec.plain(50), 0.5);
    assertEquals(0.123456789, plain.logged(0.123456789));
    assertEquals(0.9, plain.command(0.9));
  }
}
