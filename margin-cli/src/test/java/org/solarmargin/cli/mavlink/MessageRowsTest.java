package org.solarmargin.cli.mavlink;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.common.ActuatorOutputStatus;
import io.dronefleet.mavlink.common.Attitude;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import io.dronefleet.mavlink.common.SysStatus;
import io.dronefleet.mavlink.common.SystemTime;
import io.dronefleet.mavlink.common.VfrHud;
import io.dronefleet.mavlink.minimal.Heartbeat;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.LogSources;

/** What messages say, by the fields and units of MAVLink's common message set. */
class MessageRowsTest {

  /** Of a cell's voltage that is not there: all bits set, as the message set says. */
  private static final int ABSENT = 65_535;

  private static MessageRows rows(LogSources.Bus bus, LogSources.Throttle throttle, int first) {
    return new MessageRows(new LogSources(new TreeMap<>(), bus, throttle, first, 1, 0), 4);
  }

  private static MessageRows throttleOf(LogSources.Throttle throttle) {
    return rows(LogSources.Bus.BATTERY_STATUS, throttle, 1);
  }

  private static BatteryStatus battery(int centiamps, int... millivolts) {
    List<Integer> cells = new ArrayList<>(Collections.nCopies(10, ABSENT));
    for (int i = 0; i < millivolts.length; i++) {
      cells.set(i, millivolts[i]);
    }
    return BatteryStatus.builder().voltages(cells).currentBattery(centiamps).build();
  }

  @Test
  void theBusIsOfTheMessageThatTheProfileNames() {
    MessageRows battery =
        rows(LogSources.Bus.BATTERY_STATUS, LogSources.Throttle.SERVO_OUTPUT_RAW, 1);
    Row row = battery.of(battery(285, 29_500), 7);
    assertEquals(29.5, row.volts(), 1e-9);
    assertEquals(2.85, row.amps(), 1e-9);
    assertTrue(row.hasReading() && !row.empty());
    SysStatus status = SysStatus.builder().voltageBattery(29_500).currentBattery(285).build();
    assertNull(battery.of(status, 7));
    MessageRows system = rows(LogSources.Bus.SYS_STATUS, LogSources.Throttle.SERVO_OUTPUT_RAW, 1);
    assertEquals(new Row(7_000_000_000L, 29.5, 2.85, Double.NaN, Double.NaN), system.of(status, 7));
    assertNull(system.of(battery(285, 29_500), 7));
    assertNull(system.of(Heartbeat.builder().build(), 7));
  }

  /** More than 65 V stand in several fields; -1 is a current that is not measured. */
  @Test
  void fieldsAreAddedUpAndAbsentOnesAreNoReading() {
    MessageRows rows = throttleOf(LogSources.Throttle.SERVO_OUTPUT_RAW);
    assertEquals(70.1, rows.of(battery(0, 65_000, 5_100), 1).volts(), 1e-9);
    Row none = rows.of(battery(-1), 1);
    assertTrue(Double.isNaN(none.volts()) && Double.isNaN(none.amps()), none.toString());
    assertTrue(none.empty() && !none.hasReading());
    assertTrue(rows.of(battery(-1, 29_500), 1).hasReading(), "volts alone");
    assertTrue(rows.of(battery(285), 1).hasReading(), "amperes alone");
  }

  @Test
  void outputsFromZeroToOneAreAveragedOverTheMotors() {
    List<Float> outputs = new ArrayList<>(Collections.nCopies(32, 9f));
    for (int i = 0; i < 4; i++) {
      outputs.set(4 + i, 0.4f + 0.05f * i);
    }
    ActuatorOutputStatus status =
        ActuatorOutputStatus.builder()
            .timeUsec(BigInteger.valueOf(5_000_000))
            .actuator(outputs)
            .build();
    MessageRows rows =
        rows(LogSources.Bus.BATTERY_STATUS, LogSources.Throttle.ACTUATOR_OUTPUT_STATUS, 5);
    assertEquals(0.475, rows.of(status, 60).throttle(), 1e-7);
    assertEquals(5_000_000_000L, rows.of(status, 60).nanos(), "of the boot clock");
    assertEquals(
        "throttle is the mean of outputs 5 to 8 in ACTUATOR_OUTPUT_STATUS", rows.words().get(1));
    assertNull(throttleOf(LogSources.Throttle.VFR_HUD).of(status, 60));
  }

  @Test
  void theHudsThrottleIsInPercent() {
    MessageRows rows = throttleOf(LogSources.Throttle.VFR_HUD);
    assertEquals(0.55, rows.of(VfrHud.builder().throttle(55).build(), 3).throttle(), 1e-9);
    assertEquals(1, rows.of(VfrHud.builder().throttle(130).build(), 3).throttle());
    assertEquals("throttle is from VFR_HUD, in percent", rows.words().get(1));
    ServoOutputRaw servo = ServoOutputRaw.builder().servo1Raw(1500).build();
    assertNull(rows.of(servo, 3));
    assertNull(
        throttleOf(LogSources.Throttle.SERVO_OUTPUT_RAW)
            .of(VfrHud.builder().throttle(55).build(), 3));
  }

  @Test
  void pulsesThatAreAllZeroAreNoThrottle() {
    MessageRows rows = throttleOf(LogSources.Throttle.SERVO_OUTPUT_RAW);
    assertNull(rows.of(ServoOutputRaw.builder().build(), 3));
    Row half =
        rows.of(
            ServoOutputRaw.builder()
                .servo1Raw(1400)
                .servo2Raw(1600)
                .servo3Raw(1500)
                .servo4Raw(1500)
                .build(),
            3);
    assertEquals(0.5, half.throttle(), 1e-9);
  }

  /** The boot clock of any message stamps those that have none; it wraps after 2^32 us. */
  @Test
  void stampsOfOtherMessagesTellTheTimeToo() {
    MessageRows rows = throttleOf(LogSources.Throttle.SERVO_OUTPUT_RAW);
    assertNull(rows.of(Attitude.builder().timeBootMs(10_000).build(), 510));
    assertEquals(12, rows.of(battery(1, 20_000), 512).nanos() * 1e-9, 1e-3);
    assertNull(rows.of(SystemTime.builder().timeBootMs(20_000).build(), 520));
    assertEquals(21, rows.of(battery(1, 20_000), 521).nanos() * 1e-9, 2e-3);
    assertEquals(0, rows.clockRestarts());
    assertNull(rows.of(Attitude.builder().timeBootMs(1_000).build(), 540));
    assertEquals(1, rows.clockRestarts());
    assertEquals(41, rows.of(battery(1, 20_000), 541).nanos() * 1e-9, 5e-3);
  }

  @Test
  void theServosClockGoesOnWhereItWraps() {
    MessageRows rows = throttleOf(LogSources.Throttle.SERVO_OUTPUT_RAW);
    ServoOutputRaw.Builder pulses =
        ServoOutputRaw.builder().servo1Raw(1500).servo2Raw(1500).servo3Raw(1500).servo4Raw(1500);
    long before = rows.of(pulses.timeUsec(4_294_900_000L).build(), 10).nanos();
    long after = rows.of(pulses.timeUsec(32_704L).build(), 10.1).nanos();
    assertEquals(0.1, (after - before) * 1e-9, 1e-6);
    assertEquals(0, rows.clockRestarts());
  }
}
