package org.solarmargin.cli.init;

import java.util.List;
import java.util.Locale;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;

/** All keys of a profile, in the order in which a new profile lists them. */
public final class ProfileCatalogue {

  /** A group of keys with a title. */
  record Section(String title, List<ProfileKey> keys) {}

  private ProfileCatalogue() {}

  private static ProfileKey key(String name, String usual, String how) {
    return new ProfileKey(name, usual, how);
  }

  /**
   * The default of a key.
   *
   * @param name of the key
   * @return its value as text; empty if there is none
   */
  public static String usual(String name) {
    return sections().stream()
        .flatMap(section -> section.keys().stream())
        .filter(key -> key.name().equals(name))
        .findFirst()
        .orElseThrow()
        .usual();
  }

  static List<Section> sections() {
    return List.of(
        craft(), cell(), fitted(), thermal(), rotor(), sensors(), timing(), alerts(), logs(),
        link());
  }

  private static Section craft() {
    return new Section(
        "The craft and its array",
        List.of(
            key("craft.name", "craft", "shown in reports"),
            key("craft.mass_kg", "", "take-off mass, kg: weigh it with everything fitted"),
            key("array.series_cells", "", "cells in series in each string: count them"),
            key("array.parallel_strings", "", "strings in parallel"),
            key("bus.brownout_v", "", "bus voltage below which the electronics stop, V"),
            key(
                "housekeeping.power_w",
                "3",
                "power of everything but the motors, W: measure it at rest"),
            key(
                "light.shadow_share",
                "0.2",
                "share of flight time during which a few cells get less light than the rest (legs,"
                    + " antennas, droppings), 0 to 0.9")));
  }

  private static Section cell() {
    return new Section(
        "One cell from its data sheet, at 1000 W/m2 and 25 degrees C",
        List.of(
            key("cell.isc_a", "", "short-circuit current, A"),
            key("cell.voc_v", "", "open-circuit voltage, V"),
            key("cell.impp_a", "", "current at the maximum power point, A"),
            key("cell.vmpp_v", "", "voltage at the maximum power point, V"),
            key("cell.isc_temp_coeff_pct_per_c", "0.05", "change of Isc, percent per degree C"),
            key("cell.voc_temp_coeff_pct_per_c", "-0.33", "change of Voc, percent per degree C"),
            key(
                "cell.voc_temp_coeff_sd_pct_per_c",
                "0.02 if the coefficient is given, else 0.05",
                "its sigma, percent per degree C: from sweeps at several temperatures (fit"
                    + " array)")));
  }

  private static Section fitted() {
    return new Section(
        "The same cell from the bench, in place of the four data sheet values: margin fit array"
            + " SWEEP --into PROFILE",
        List.of(
            key("cell.photocurrent_a", "", "photocurrent, A"),
            key("cell.saturation_a", "", "saturation current of the diode, A"),
            key("cell.ideality", "", "ideality factor of the diode"),
            key("cell.series_ohm", "", "series resistance, ohm"),
            key("cell.shunt_ohm", "", "shunt resistance, ohm"),
            key("cell.bench_c", "25", "cell temperature when they were measured, degrees C"),
            key("cell.series_ohm_sd_pct", "12", "sigma of the series resistance, percent"),
            key("cell.ideality_sd_pct", "2", "sigma of the ideality, percent")));
  }

  private static Section thermal() {
    return new Section(
        "Heat: measure it with a thermometer on the back of a cell during the first tethered"
            + " minutes",
        List.of(
            key("thermal.ambient_c", "25", "air temperature, degrees C"),
            key(
                "thermal.sun_rise_c",
                "25",
                "rise of the cells above air temperature in full sun with rotors turning, K"),
            key("thermal.time_constant_s", "15", "time constant of that rise (63 %), s")));
  }

  private static Section rotor() {
    return new Section(
        "Motors and propellers, hover in still air at sea level: margin fit rotor STAND --into"
            + " PROFILE",
        List.of(
            key("rotor.count", "4", "number of rotors"),
            key("rotor.diameter_m", "", "diameter of each propeller, m"),
            key("rotor.hover_throttle", "0.5", "mean motor command in hover, 0 to 1"),
            key(
                "rotor.hover_power_w",
                "55 % of the array's",
                "bus power in hover, housekeeping included, W"),
            key("rotor.hover_bus_v", "88 % of Voc", "bus voltage in hover, V"),
            key("rotor.command_lag_s", "0", "first-order lag of the motor controllers, s"),
            key("rotor.command_delay_s", "0", "delay from a logged command until it acts, s")));
  }

  private static Section sensors() {
    return new Section(
        "Sensors, one sigma: noise from a log at rest, the others by comparison with a meter",
        List.of(
            key("sensor.voltage_noise_v", "0.02", "noise from sample to sample, V"),
            key("sensor.current_noise_a", "0.05", "noise from sample to sample, A"),
            key("sensor.voltage_gain_sd_pct", "0.5", "scale error left after calibration, percent"),
            key("sensor.current_gain_sd_pct", "1.5", "scale error left after calibration, percent"),
            key("sensor.current_offset_sd_a", "0.05", "zero error left after calibration, A")));
  }

  private static Section timing() {
    return new Section(
        "The logger's timing; if none is stated it is identified from each log: margin fit logger"
            + " LOG --into PROFILE",
        List.of(
            key("sensor.voltage_filter_s", "0", "first-order filter, s"),
            key("sensor.voltage_delay_s", "0", "delay, s"),
            key("sensor.voltage_period_s", "0", "interval of fresh readings, s"),
            key("sensor.voltage_step_v", "0", "rounding step, V"),
            key("sensor.current_filter_s", "0", "first-order filter, s"),
            key("sensor.current_delay_s", "0", "delay, s"),
            key("sensor.current_period_s", "0", "interval of fresh readings, s"),
            key("sensor.current_step_a", "0", "rounding step, A")));
  }

  private static Section alerts() {
    AlertRules usual = AlertRules.DEFAULT;
    java.util.ArrayList<ProfileKey> keys = new java.util.ArrayList<>();
    for (AlertLevel level : List.of(AlertLevel.WARNING, AlertLevel.CAUTION, AlertLevel.ADVISORY)) {
      LevelRule rule = usual.of(level);
      String prefix = "alert." + level.name().toLowerCase(Locale.ROOT) + "_";
      keys.add(
          key(
              prefix + "margin_pct",
              "" + rule.marginPercent(),
              "margin threshold, percent of peak demand"));
      keys.add(
          key(
              prefix + "time_s",
              "" + rule.timeSeconds(),
              "threshold of the time to zero margin, s"));
      keys.add(key(prefix + "on_delay_s", "" + rule.onDelaySeconds(), "delay before raising, s"));
      keys.add(
          key(prefix + "off_delay_s", "" + rule.offDelaySeconds(), "delay before clearing, s"));
      keys.add(
          key(
              prefix + "hysteresis_pct",
              "" + rule.hysteresisPercent(),
              "hysteresis of the margin, percent"));
    }
    keys.add(
        key(
            "alert.peak_memory_s",
            "" + usual.peakMemorySeconds(),
            "memory of the demand's peaks, s"));
    return new Section("Alert rules; tune them on your own flights: margin tune LOGS", keys);
  }

  private static Section logs() {
    return new Section(
        "Logs: the name of each column in your logs, with :UNIT if its unit differs, as for"
            + " --column",
        List.of(
            key("log.time_s", "", "time: s, ms, us, ns; for example timestamp:us"),
            key("log.bus_v", "", "bus voltage: V, mV, cV; for example Voltage:mV"),
            key("log.bus_a", "", "bus current: A, mA, cA"),
            key("log.throttle", "", "throttle: 1, pct, permille, us (1000 to 2000)"),
            key("log.cell_c", "", "measured cell temperature: C, K, cC"),
            key("log.height_m", "", "height: m, cm, mm"),
            key("log.event", "", "marks made by the pilot")));
  }

  private static Section link() {
    return new Section(
        "Telemetry, live and recorded (MAVLink, common message set)",
        List.of(
            key(
                "link.bus_message",
                "BATTERY_STATUS",
                "message with volts and amperes; or SYS_STATUS"),
            key(
                "link.throttle_message",
                "SERVO_OUTPUT_RAW",
                "message with the throttle; or ACTUATOR_OUTPUT_STATUS, VFR_HUD"),
            key("link.first_motor_output", "1", "first output that drives a motor, 1 to 16"),
            key("link.system_id", "1", "the only system that is accepted; 0 for any"),
            key("link.component_id", "0", "the only component that is accepted; 0 for any")));
  }
}
