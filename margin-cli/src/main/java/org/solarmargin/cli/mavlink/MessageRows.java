package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.common.ActuatorOutputStatus;
import io.dronefleet.mavlink.common.Attitude;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import io.dronefleet.mavlink.common.SysStatus;
import io.dronefleet.mavlink.common.SystemTime;
import io.dronefleet.mavlink.common.VfrHud;
import java.util.List;

/**
 * Rows from MAVLink messages (common message set). Each message gives what it has, at its own time:
 * volts and amperes from BATTERY_STATUS or SYS_STATUS, throttle from SERVO_OUTPUT_RAW (1000 to 2000
 * us), ACTUATOR_OUTPUT_STATUS or VFR_HUD (percent), time from every stamp of the boot clock.
 */
public final class MessageRows {

  /** Which message gives the bus readings. */
  public enum Bus {
    /** BATTERY_STATUS. */
    BATTERY,
    /** SYS_STATUS. */
    SYS
  }

  /** Which message gives the throttle. */
  public enum Throttle {
    /** SERVO_OUTPUT_RAW, mean of the first outputs. */
    SERVO,
    /** ACTUATOR_OUTPUT_STATUS, mean of the first outputs. */
    ACTUATOR,
    /** VFR_HUD. */
    HUD
  }

  private static final int NO_MILLIVOLTS = 65_535;
  private static final double NANOS = 1e9;
  private static final double MICROS = 1e-6;
  private static final double WRAP_SECONDS = 4294.967296;

  private final Bus bus;
  private final Throttle throttle;
  private final int motors;
  private final LinkClock clock = new LinkClock();
  private double lastServo = Double.NaN;
  private double wrapped;

  /**
   * Rows of one vehicle.
   *
   * @param bus which message gives the bus readings
   * @param throttle which message gives the throttle
   * @param motors how many of the first outputs are motors, 1 to 16
   */
  public MessageRows(Bus bus, Throttle throttle, int motors) {
    this.bus = bus;
    this.throttle = throttle;
    this.motors = motors;
  }

  /**
   * The row of a message.
   *
   * @param payload of the message
   * @param arrival when it came, s of the local clock
   * @return null if it has nothing for a row
   */
  public Row of(Object payload, double arrival) {
    if (payload instanceof Attitude attitude) {
      clock.stamped(attitude.timeBootMs() * 1e-3, arrival);
    } else if (payload instanceof SystemTime time) {
      clock.stamped(time.timeBootMs() * 1e-3, arrival);
    } else if (payload instanceof BatteryStatus battery && bus == Bus.BATTERY) {
      return reading(volts(battery.voltages()), battery.currentBattery(), arrival);
    } else if (payload instanceof SysStatus status && bus == Bus.SYS) {
      return reading(volts(List.of(status.voltageBattery())), status.currentBattery(), arrival);
    } else if (payload instanceof ServoOutputRaw servo) {
      double time = clock.stamped(servoSeconds(servo.timeUsec()), arrival);
      return throttle == Throttle.SERVO ? command(time, pulses(servo)) : null;
    } else if (payload instanceof ActuatorOutputStatus outputs) {
      double time = clock.stamped(outputs.timeUsec().doubleValue() * MICROS, arrival);
      return throttle == Throttle.ACTUATOR ? command(time, mean(outputs.actuator())) : null;
    } else if (payload instanceof VfrHud hud && throttle == Throttle.HUD) {
      return command(clock.unstamped(arrival), 0.01 * hud.throttle());
    }
    return null;
  }

  /** SERVO_OUTPUT_RAW counts microseconds in 32 bits: an hour and 11 minutes. */
  private double servoSeconds(long micros) {
    double seconds = micros * MICROS;
    wrapped += seconds < lastServo - WRAP_SECONDS / 2 ? WRAP_SECONDS : 0;
    lastServo = seconds;
    return seconds + wrapped;
  }

  private Row reading(double volts, int centiamps, double arrival) {
    double amps = centiamps < 0 ? Double.NaN : 0.01 * centiamps;
    long nanos = Math.round(clock.unstamped(arrival) * NANOS);
    return new Row(nanos, volts, amps, Double.NaN, Double.NaN);
  }

  private static Row command(double time, double value) {
    double bounded = Math.min(Math.max(value, 0), 1);
    return Double.isNaN(value)
        ? null
        : new Row(Math.round(time * NANOS), Double.NaN, Double.NaN, bounded, Double.NaN);
  }

  /** A voltage above 65 V is divided over several fields. */
  private static double volts(List<Integer> millivolts) {
    double sum = 0;
    int there = 0;
    for (int one : millivolts) {
      if (one != NO_MILLIVOLTS && one > 0) {
        sum += one;
        there++;
      }
    }
    return there == 0 ? Double.NaN : sum / 1000;
  }

  private double pulses(ServoOutputRaw servo) {
    List<Integer> all =
        List.of(
            servo.servo1Raw(),
            servo.servo2Raw(),
            servo.servo3Raw(),
            servo.servo4Raw(),
            servo.servo5Raw(),
            servo.servo6Raw(),
            servo.servo7Raw(),
            servo.servo8Raw(),
            servo.servo9Raw(),
            servo.servo10Raw(),
            servo.servo11Raw(),
            servo.servo12Raw(),
            servo.servo13Raw(),
            servo.servo14Raw(),
            servo.servo15Raw(),
            servo.servo16Raw());
    double sum = 0;
    for (int i = 0; i < motors; i++) {
      sum += all.get(i);
    }
    return sum > 0 ? sum / motors / 1000 - 1 : Double.NaN;
  }

  private double mean(List<Float> outputs) {
    double sum = 0;
    for (int i = 0; i < Math.min(motors, outputs.size()); i++) {
      sum += outputs.get(i);
    }
    return sum / motors;
  }
}
