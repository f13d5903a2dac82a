package org.solarmargin.cli.rehearse;

import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import io.dronefleet.mavlink.minimal.Heartbeat;
import io.dronefleet.mavlink.minimal.MavAutopilot;
import io.dronefleet.mavlink.minimal.MavState;
import io.dronefleet.mavlink.minimal.MavType;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.solarmargin.cli.mavlink.PacketWriter;
import org.solarmargin.cli.mavlink.SigningKey;
import org.solarmargin.sim.flight.FlightSample;

/**
 * Sends a flight's samples as packets of version 2: motor outputs at 25 Hz, the bus at 10 Hz, a
 * heartbeat at 1 Hz.
 */
final class Telemetry {

  private static final int SYSTEM = 1;
  private static final int AUTOPILOT = 1;
  private static final double OUTPUTS_EVERY = 0.04;
  private static final double BUS_EVERY = 0.1;
  private static final double HEARTBEAT_EVERY = 1;
  private static final double SLACK = 1e-6;
  private static final int NO_MILLIVOLTS = 65_535;
  private static final int CELL_FIELDS = 10;
  private static final int MOST_MILLIVOLTS = 65_000;
  private static final int MOST_MOTORS = 8;

  private final FlakyLink link;
  private final int motors;
  private final PacketWriter packets;
  private double outputsDue;
  private double busDue;
  private double heartbeatDue;
  private long count;

  /** Sends over a link; packets are signed unless the key is null. */
  Telemetry(FlakyLink link, int motors, SigningKey key) {
    this.link = link;
    packets = new PacketWriter(SYSTEM, AUTOPILOT, key);
    this.motors = Math.min(motors, MOST_MOTORS);
  }

  /** Sends the messages due at a sample's time. */
  void send(FlightSample sample) {
    double now = sample.seconds;
    if (now >= heartbeatDue - SLACK) {
      heartbeatDue = now + HEARTBEAT_EVERY;
      send(
          now,
          Heartbeat.builder()
              .type(MavType.MAV_TYPE_QUADROTOR)
              .autopilot(MavAutopilot.MAV_AUTOPILOT_GENERIC)
              .systemStatus(MavState.MAV_STATE_ACTIVE)
              .mavlinkVersion(3)
              .build());
    }
    if (now >= outputsDue - SLACK) {
      outputsDue = now + OUTPUTS_EVERY;
      send(now, outputs(now, (int) Math.round(1000 + 1000 * sample.throttle)));
    }
    if (now >= busDue - SLACK && !Double.isNaN(sample.busVolts + sample.busAmps)) {
      busDue = now + BUS_EVERY;
      send(now, bus(sample.busVolts, sample.busAmps));
    }
  }

  private ServoOutputRaw outputs(double now, int pulse) {
    int[] pulses = new int[MOST_MOTORS];
    for (int i = 0; i < motors; i++) {
      pulses[i] = pulse;
    }
    return ServoOutputRaw.builder()
        .timeUsec(Math.round(now * 1e6) & 0xffff_ffffL)
        .port(0)
        .servo1Raw(pulses[0])
        .servo2Raw(pulses[1])
        .servo3Raw(pulses[2])
        .servo4Raw(pulses[3])
        .servo5Raw(pulses[4])
        .servo6Raw(pulses[5])
        .servo7Raw(pulses[6])
        .servo8Raw(pulses[7])
        .build();
  }

  private static BatteryStatus bus(double volts, double amps) {
    List<Integer> fields = new ArrayList<>(Collections.nCopies(CELL_FIELDS, NO_MILLIVOLTS));
    int left = (int) Math.round(1000 * volts);
    for (int i = 0; i < CELL_FIELDS && left > 0; i++) {
      fields.set(i, Math.min(left, MOST_MILLIVOLTS));
      left -= MOST_MILLIVOLTS;
    }
    return BatteryStatus.builder()
        .id(0)
        .voltages(fields)
        .currentBattery((int) Math.round(100 * Math.max(amps, 0)))
        .batteryRemaining(-1)
        .build();
  }

  private void send(double now, Object payload) {
    count++;
    link.send(now, packets.packet(payload));
  }

  long count() {
    return count;
  }
}
