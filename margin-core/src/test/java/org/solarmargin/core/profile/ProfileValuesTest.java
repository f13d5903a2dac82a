package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** Every key's value arrives where it belongs, in the unit that the estimator works in. */
class ProfileValuesTest {

  private static final String CELL =
      """
      array.series_cells = 40
      array.parallel_strings = 3
      cell.photocurrent_a = 6.1
      cell.saturation_a = 8.6e-11
      cell.ideality = 1.07
      cell.series_ohm = 0.0045
      cell.shunt_ohm = 34
      """;

  private static CraftProfile parse(String text) {
    return CraftProfile.parse("p", text);
  }

  @Test
  void theCraft() {
    CraftProfile profile =
        parse(
            CELL
                + """
                craft.name = Stilt
                craft.mass_kg = 1.7
                rotor.count = 6
                rotor.diameter_m = 0.61
                bus.brownout_v = 13
                """);
    assertEquals("Stilt", profile.name());
    assertEquals(1.7, profile.massKilograms());
    assertEquals(6, profile.rotors());
    assertEquals(0.61, profile.rotorDiameterMetres());
    assertEquals(13, profile.brownoutVolts());
    assertEquals(40, profile.settings().seriesCells());
    assertEquals(3, profile.settings().parallelStrings());
  }

  @Test
  void theCellInPercentAndDegrees() {
    EstimatorSettings settings =
        parse(
                CELL
                    + """
                    cell.isc_temp_coeff_pct_per_c = 0.04
                    cell.voc_temp_coeff_pct_per_c = -0.28
                    cell.voc_temp_coeff_sd_pct_per_c = 0.013
                    cell.bench_c = 31
                    cell.series_ohm_sd_pct = 12
                    cell.ideality_sd_pct = 3
                    light.shadow_share = 0.21
                    """)
            .settings();
    assertEquals(6.1, settings.cell().photocurrentAmps());
    assertEquals(8.6e-11, settings.cell().saturationAmps());
    assertEquals(1.07, settings.cell().ideality());
    assertEquals(0.0045, settings.cell().seriesOhms());
    assertEquals(34, settings.cell().shuntOhms());
    assertEquals(0.0004, settings.cell().photocurrentTempCoeffPerKelvin(), 1e-15);
    assertEquals(-0.0028, settings.cell().vocTempCoeffPerKelvin(), 1e-15);
    assertEquals(31, settings.cell().benchCelsius());
    assertEquals(0.00013, settings.cellSpread().vocCoeffSdPerKelvin(), 1e-15);
    assertEquals(0.12, settings.cellSpread().seriesLogSd(), 1e-15);
    assertEquals(0.03, settings.cellSpread().idealityLogSd(), 1e-15);
    assertEquals(0.21, settings.shadowShare());
  }

  @Test
  void heatAndSensors() {
    EstimatorSettings settings =
        parse(
                CELL
                    + """
                    thermal.ambient_c = 17
                    thermal.sun_rise_c = 21
                    thermal.time_constant_s = 33
                    sensor.voltage_noise_v = 0.07
                    sensor.current_noise_a = 0.11
                    sensor.voltage_gain_sd_pct = 0.8
                    sensor.current_gain_sd_pct = 2.5
                    sensor.current_offset_sd_a = 0.13
                    """)
            .settings();
    assertEquals(new EstimatorSettings.Thermal(17, 21, 33), settings.thermal());
    assertEquals(new EstimatorSettings.Sensors(0.07, 0.11, 0.008, 0.025, 0.13), settings.sensors());
  }

  @Test
  void theTimeModel() {
    assertEquals(TimeModel.UNKNOWN, parse(CELL).settings().timing());
    TimeModel stated =
        parse(
                CELL
                    + """
                    sensor.voltage_filter_s = 0.2
                    sensor.voltage_delay_s = 0.03
                    sensor.voltage_period_s = 0.25
                    sensor.voltage_step_v = 0.05
                    sensor.current_filter_s = 0.3
                    sensor.current_delay_s = 0.04
                    sensor.current_period_s = 0.35
                    sensor.current_step_a = 0.06
                    rotor.command_lag_s = 0.07
                    rotor.command_delay_s = 0.08
                    """)
            .settings()
            .timing();
    assertEquals(
        new TimeModel(
            new ChannelTiming(0.2, 0.03, 0.25, 0.05),
            new ChannelTiming(0.3, 0.04, 0.35, 0.06),
            0.07,
            0.08,
            true,
            TimeModel.Source.STATED),
        stated);
  }

  @Test
  void theAlertRules() {
    StringBuilder lines = new StringBuilder(CELL);
    int level = 0;
    for (String name : new String[] {"advisory", "caution", "warning"}) {
      level++;
      lines.append("alert.").append(name).append("_margin_pct = ").append(40 - level).append('\n');
      lines.append("alert.").append(name).append("_time_s = ").append(20 + level).append('\n');
      lines.append("alert.").append(name).append("_on_delay_s = ").append(level).append('\n');
      lines.append("alert.").append(name).append("_off_delay_s = ").append(10 + level).append('\n');
      lines.append("alert.").append(name).append("_hysteresis_pct = ").append(4 + level);
      lines.append('\n');
    }
    lines.append("alert.peak_memory_s = 12\n");
    assertEquals(
        new AlertRules(
            new LevelRule(39, 21, 1, 11, 5),
            new LevelRule(38, 22, 2, 12, 6),
            new LevelRule(37, 23, 3, 13, 7),
            12),
        parse(lines.toString()).rules());
    assertEquals(AlertRules.DEFAULT, parse(CELL).rules());
  }

  @Test
  void theLogAndTheLink() {
    LogSources sources =
        parse(
                CELL
                    + """
                    log.time_s = Stamp
                    log.event = Note
                    link.bus_message = SYS_STATUS
                    link.throttle_message = ACTUATOR_OUTPUT_STATUS
                    link.first_motor_output = 16
                    link.system_id = 255
                    link.component_id = 3
                    """)
            .sources();
    assertEquals(
        new LogSources(
            new java.util.TreeMap<>(Map.of("time_s", "Stamp", "event", "Note")),
            LogSources.Bus.SYS_STATUS,
            LogSources.Throttle.ACTUATOR_OUTPUT_STATUS,
            16,
            255,
            3),
        sources);
  }

  @Test
  void theHoverAsStated() {
    EstimatorSettings.Rotor rotor =
        parse(
                CELL
                    + """
                    housekeeping.power_w = 4
                    rotor.hover_throttle = 0.45
                    rotor.hover_power_w = 90
                    rotor.hover_bus_v = 22
                    """)
            .settings()
            .rotor();
    assertEquals(new EstimatorSettings.Rotor(0.45, 90, 22, true, 4), rotor);
  }

  /** 55 % of the array's power and 88 % of its voltage: 40 x 3 cells, by the cell's own curve. */
  @Test
  void theHoverAsGuessed() {
    CraftProfile profile = parse(CELL + "housekeeping.power_w = 4\n");
    CellCurve cell = new CellCurve(profile.settings().cell());
    cell.set(1, 25);
    cell.solvePeak();
    double watts = 120 * cell.peakVolts() * cell.peakAmps();
    EstimatorSettings.Rotor rotor = profile.settings().rotor();
    assertEquals(0.5, rotor.hoverThrottle());
    assertEquals(4 + 0.55 * watts, rotor.hoverWatts(), 1e-9);
    assertEquals(0.88 * 40 * cell.openCircuitVolts(), rotor.hoverBusVolts(), 1e-9);
    assertEquals(4, rotor.housekeepingWatts());
    assertTrue(!rotor.known());
  }

  @Test
  void otherSettingsAndAnotherTimeModel() {
    CraftProfile profile = parse(CELL + "craft.name = Stilt\n");
    CraftProfile timed = profile.withTiming(TimeModel.SIMULTANEOUS);
    assertEquals(TimeModel.SIMULTANEOUS, timed.settings().timing());
    assertEquals("Stilt", timed.name());
    assertEquals(profile.rules(), timed.rules());
    CraftProfile back = timed.with(profile.settings());
    assertEquals(profile.settings(), back.settings());
  }

  @Test
  void allKeysAreListed() {
    assertTrue(CraftProfile.keys().containsAll(java.util.List.of("craft.name", "rotor.count")));
    assertTrue(CraftProfile.keys().contains("alert.warning_hysteresis_pct"));
    assertTrue(CraftProfile.keys().contains("link.component_id"));
  }
}
