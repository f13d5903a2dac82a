package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.common.ActuatorOutputStatus;
import io.dronefleet.mavlink.common.Attitude;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import io.dronefleet.mavlink.common.SysStatus;
import io.dronefleet.mavlink.common.SystemTime;
import io.dronefleet.mavlink.common.VfrHud;
import java.util.List;
import java.util.Set;
import org.solarmargin.core.profile.LogSources;

/**
 * Converts MAVLink messages (common message set) to rows. Each message contributes its values at
 * its own time: volts and amperes from BATTERY_STATUS or SYS_STATUS, throttle from SERVO_OUTPUT_RAW
 * (1000 to 2000 us), ACTUATOR_OUTPUT_STATUS or VFR_HUD (percent), as the profile states; time from
 * every boot time stamp.
 */
public final class MessageRows {

  /** Messages with values for a row or a boot time stamp. */
  static final Set<Class<?>> READ =
      Set.of(
          Attitude.class,
          SystemTime.class,
          BatteryStatus.class,
          SysStatus.class,
          ServoOutputRaw.class,
          ActuatorOutputStatus.class,
          VfrHud.class);

  /** Outputs of SERVO_OUTPUT_RAW. */
  private static final int MOST_OUTPUTS = 16;

  private static final int NO_MILLIVOLTS = 65_535;
  private static final double NANOS = 1e9;
  private static final double MICROS = 1e-6;
  private static final double WRAP_SECONDS = 4294.967296;

  private final LogSources sources;
  private final int motors;
  private final LinkClock clock = new LinkClock();
  private double lastServo = Double.NaN;
  private double wrapped;

  /**
   * Creates the converter for one vehicle.
   *
   * @param sources which messages feed them
   * @param motors number of outputs that drive motors, 1 or more; those beyond the last output are
   *     left out
   */
  public MessageRows(LogSources sources, int motors) {
    this.sources = sources;
    this.motors = Math.min(motors, MOST_OUTPUTS + 1 - sources.firstOutput());
  }

  /**
   * Describes which messages feed the rows.
   *
   * @return two lines
   */
  public List<String> words() {
    String outputs =
        "outputs " + sources.firstOutput() + " to " + (sources.firstOutput() + motors - 1);
    return List.of(
        "bus_v and bus_a are from " + sources.bus(),
        switch (sources.throttle()) {
          case SERVO_OUTPUT_RAW ->
              "throttle is the mean of " + outputs + " in SERVO_OUTPUT_RAW, in us";
          case ACTUATOR_OUTPUT_STATUS ->
              "throttle is the mean of " + outputs + " in ACTUATOR_OUTPUT_STATUS";
          case VFR_HUD -> "throttle is from VFR_HUD, in percent";
        });
  }

  /**
   * Number of restarts of the boot clock.
   *
   * @return 0 or more
   */
  public long clockRestarts() {
    return clock.restarts();
  }

  /**
   * Converts a message to a row.
   *
   * @param payload payload of the message
   * @param arrival time of arrival, s of the local clock
   * @return the row; null if the message has no values for one
   */
  public Row of(Object payload, double arrival) {
    if (payload instanceof Attitude attitude) {
      clock.stamped(attitude.timeBootMs() * 1e-3, arrival);
    } else if (payload instanceof SystemTime time) {
      clock.stamped(time.timeBootMs() * 1e-3, arrival);
    } else if (payload instanceof BatteryStatus battery
        && sources.bus() == LogSources.Bus.BATTERY_STATUS) {
      return reading(volts(battery.voltages()), battery.currentBattery(), arrival);
    } else if (payload instanceof SysStatus status && sources.bus() == LogSources.Bus.SYS_STATUS) {
      return reading(volts(List.of(status.voltageBattery())), status.currentBattery(), arrival);
    } else if (payload instanceof ServoOutputRaw servo) {
      double time = clock.stamped(servoSeconds(servo.timeUsec()), arrival);
      return sources.throttle() == LogSources.Throttle.SERVO_OUTPUT_RAW
          ? command(time, pulses(servo))
          : null;
    } else if (payload instanceof ActuatorOutputStatus outputs) {
      double time = clock.stamped(outputs.timeUsec().doubleValue() * MICROS, arrival);
      return sources.throttle() == LogSources.Throttle.ACTUATOR_OUTPUT_STATUS
          ? command(time, mean(outputs.actuator()))
          : null;
    } else if (payload instanceof VfrHud hud && sources.throttle() == LogSources.Throttle.VFR_HUD) {
      return command(clock.unstamped(arrival), 0.01 * hud.throttle());
    }
    return null;
  }

  /** SERVO_OUTPUT_RAW counts microseconds in 32 bits, which wrap after an hour and 11 minutes. */
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

  /** Sums the cell fields; a voltage above 65 V is divided over several of them. */
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
      sum += all.get(sources.firstOutput() - 1 + i);
    }
    return sum > 0 ? sum / motors / 1000 - 1 : Double.NaN;
  }

  private double mean(List<Float> outputs) {
    double sum = 0;
    int from = sources.firstOutput() - 1;
    for (int i = from; i < Math.min(from + motors, outputs.size()); i++) {
      sum += outputs.get(i);
    }
    return sum / motors;
  }
}
