package org.solarmargin.core.profile;

import java.util.Collections;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Which columns of a log, and which messages of a MAVLink stream (common message set), feed the
 * estimator. The profile states it for whoever reads logs and links; the monitor does not look at
 * it.
 *
 * @param columns of a log, by quantity (time_s, bus_v, bus_a, throttle, cell_c, height_m, event):
 *     its name there, with {@code :UNIT} if the unit is another one; those that are not stated are
 *     left to the reader. Unmodifiable
 * @param bus message with the bus voltage and current
 * @param throttle message with the throttle
 * @param firstOutput first of the outputs that drive motors, from 1 to 16; as many follow as the
 *     craft has rotors
 * @param system the only system that is heard, 1 to 255; 0 for any
 * @param component the only component that is heard, 1 to 255; 0 for any
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
    /** Its voltages added up, its current. */
    BATTERY_STATUS,
    /** The battery's voltage and current in the system's status. */
    SYS_STATUS
  }

  /** Message with the throttle. */
  public enum Throttle {
    /** Mean of the motors' pulses, 1000 to 2000 us. */
    SERVO_OUTPUT_RAW,
    /** Mean of the motors' outputs, 0 to 1. */
    ACTUATOR_OUTPUT_STATUS,
    /** Percent. */
    VFR_HUD
  }

  /** A profile's that states nothing: the first outputs of system 1, its own column names. */
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
