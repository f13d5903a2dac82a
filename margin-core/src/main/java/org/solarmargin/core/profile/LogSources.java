package org.solarmargin.core.profile;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The columns of a log, and the messages of a MAVLink stream (common message set), that feed the
 * estimator. The profile states them for the readers of logs and links; the monitor does not use
 * them.
 *
 * @param columns names of the log's columns by quantity (time_s, bus_v, bus_a, throttle, cell_c,
 *     height_m, event), with {@code :UNIT} if the unit differs; the reader recognises those that
 *     are not stated. Unmodifiable
 * @param bus message with the bus voltage and current
 * @param throttle message with the throttle
 * @param firstOutput first output that drives a motor, 1 to 16; the others follow, as many as the
 *     craft has rotors
 * @param system the only system whose messages are used, 1 to 255; 0 for any
 * @param component the only component whose messages are used, 1 to 255; 0 for any
 */
public record LogSources(
    SortedMap<String, String> columns,
    Bus bus,
    Throttle throttle,
    int firstOutput,
    int system,
    int component) {

  /** Message with the readings of the bus. */
  public enum Bus {
    /** The sum of its voltages, and its current. */
    BATTERY_STATUS,
    /** The battery voltage and current in the system status. */
    SYS_STATUS
  }

  /** Message with the throttle. */
  public enum Throttle {
    /** Mean of the motors' pulses, 1000 to 2000 us. */
    SERVO_OUTPUT_RAW,
    /** Mean of the motors' outputs, 0 to 1. */
    ACTUATOR_OUTPUT_STATUS,
    /** Throttle in percent. */
    VFR_HUD
  }

  /** The default: standard column names, and the first outputs of system 1. */
  public static final LogSources DEFAULT =
      new LogSources(
          Collections.emptySortedMap(), Bus.BATTERY_STATUS, Throttle.SERVO_OUTPUT_RAW, 1, 1, 0);

  /** Copies the columns. */
  public LogSources {
    columns = Collections.unmodifiableSortedMap(new TreeMap<>(columns));
  }

  private static final String[] COLUMNS = {
    "time_s", "bus_v", "bus_a", "throttle", "cell_c", "height_m", "event"
  };

  static LogSources read(StrictProperties in) {
    SortedMap<String, String> columns = new TreeMap<>();
    for (String column : COLUMNS) {
      String key = "log." + column;
      String name = in.text(key, "");
      if (!name.isEmpty()) {
        columns.put(column, name);
      } else if (in.has(key)) {
        in.faultOf(key, key + " must name the column, or leave the line out");
      }
    }
    return new LogSources(
        columns,
        in.choice("link.bus_message", DEFAULT.bus),
        in.choice("link.throttle_message", DEFAULT.throttle),
        in.integer("link.first_motor_output", 1, 16, DEFAULT.firstOutput),
        in.integer("link.system_id", 0, 255, DEFAULT.system),
        in.integer("link.component_id", 0, 255, DEFAULT.component));
  }
}
