package org.solarmargin.core.profile;

import java.util.function.Supplier;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** The keys of the craft profile, their ranges and defaults. */
final class ProfileReader {

  /** Keys of the time model. */
  private static final String[] TIMING = {
    "sensor.voltage_filter_s",
    "sensor.voltage_delay_s",
    "sensor.voltage_period_s",
    "sensor.voltage_step_v",
    "sensor.current_filter_s",
    "sensor.current_delay_s",
    "sensor.current_period_s",
    "sensor.current_step_a",
    "rotor.command_lag_s",
    "rotor.command_delay_s"
  };

  private static final String MASS = "craft.mass_kg";

  private final StrictProperties in;

  ProfileReader(StrictProperties in) {
    this.in = in;
  }

  CraftProfile read() {
    String name = in.text("craft.name", "craft");
    double mass = in.number(MASS, 0.01, 10_000, Double.NaN);
    int series = in.integer("array.series_cells", 1, 10_000);
    int parallel = in.integer("array.parallel_strings", 1, 10_000);
    CellKeys cell = new CellKeys(in);
    Supplier<EstimatorSettings.Thermal> thermal = thermal();
    int rotors = in.integer("rotor.count", 1, 64, 4);
    double diameter = in.number("rotor.diameter_m", 0.05, 5, Double.NaN);
    double brownout = in.number("bus.brownout_v", 0, 1e4, Double.NaN);
    HoverKeys hover = new HoverKeys(in);
    if (cell.parameters() != null && !in.faulty()) {
      SolarArray array = new SolarArray(cell.parameters(), series, parallel);
      hover.check(new HoverCheck(mass, rotors, diameter), MASS, array);
    }
    Supplier<EstimatorSettings.Sensors> sensors = sensors();
    double shadowShare =
        in.number("light.shadow_share", 0, 0.9, EstimatorSettings.DEFAULT_SHADOW_SHARE);
    TimeModel timing = timing();
    AlertRules rules = rules();
    LogSources sources = LogSources.read(in);
    in.finish();
    EstimatorSettings settings =
        new EstimatorSettings(
            cell.parameters(),
            cell.spread(),
            series,
            parallel,
            thermal.get(),
            hover.rotor(new SolarArray(cell.parameters(), series, parallel)),
            sensors.get(),
            timing,
            shadowShare);
    return new CraftProfile(name, mass, rotors, diameter, settings, rules, brownout, sources);
  }

  /** Reads the keys now; the record is created later, once no key is known to be faulty. */
  private Supplier<EstimatorSettings.Thermal> thermal() {
    double ambient = in.number("thermal.ambient_c", -60, 60, 25);
    double rise = in.number("thermal.sun_rise_c", 0, 90, 25);
    double lag = in.number("thermal.time_constant_s", 0.5, 3600, 15);
    return () -> new EstimatorSettings.Thermal(ambient, rise, lag);
  }

  private Supplier<EstimatorSettings.Sensors> sensors() {
    double voltageNoise = in.number("sensor.voltage_noise_v", 1e-6, 100, 0.02);
    double currentNoise = in.number("sensor.current_noise_a", 1e-6, 100, 0.05);
    double voltageGain = in.number("sensor.voltage_gain_sd_pct", 0, 50, 0.5);
    double currentGain = in.number("sensor.current_gain_sd_pct", 0, 50, 1.5);
    double currentOffset = in.number("sensor.current_offset_sd_a", 0, 100, 0.05);
    return () ->
        new EstimatorSettings.Sensors(
            voltageNoise, currentNoise, voltageGain / 100, currentGain / 100, currentOffset);
  }

  /** The time model; it counts as stated if at least one of its keys is given. */
  private TimeModel timing() {
    boolean stated = in.hasAny(TIMING);
    ChannelTiming volts = channel("sensor.voltage_", "v");
    ChannelTiming amps = channel("sensor.current_", "a");
    double lag = in.number("rotor.command_lag_s", 0, TimeModel.LONGEST_COMMAND_LAG_SECONDS, 0);
    double delay = in.number("rotor.command_delay_s", 0, ChannelTiming.LONGEST_DELAY_SECONDS, 0);
    return in.faulty()
        ? TimeModel.UNKNOWN
        : new TimeModel(
            volts,
            amps,
            lag,
            delay,
            stated,
            stated ? TimeModel.Source.STATED : TimeModel.Source.UNKNOWN);
  }

  private ChannelTiming channel(String prefix, String unit) {
    double filter = in.number(prefix + "filter_s", 0, ChannelTiming.LONGEST_FILTER_SECONDS, 0);
    double delay = in.number(prefix + "delay_s", 0, ChannelTiming.LONGEST_DELAY_SECONDS, 0);
    double period = in.number(prefix + "period_s", 0, ChannelTiming.LONGEST_PERIOD_SECONDS, 0);
    double step = in.number(prefix + "step_" + unit, 0, ChannelTiming.COARSEST_STEP, 0);
    return in.faulty() ? ChannelTiming.IMMEDIATE : new ChannelTiming(filter, delay, period, step);
  }

  private AlertRules rules() {
    AlertRules usual = AlertRules.DEFAULT;
    LevelRule advisory = level("advisory", usual.advisory());
    LevelRule caution = level("caution", usual.caution());
    LevelRule warning = level("warning", usual.warning());
    double memory = in.number("alert.peak_memory_s", 0.1, 600, usual.peakMemorySeconds());
    if (in.faulty()) {
      return usual;
    }
    try {
      return new AlertRules(advisory, caution, warning, memory);
    } catch (IllegalArgumentException e) {
      in.fault("alert rules: " + e.getMessage());
      return usual;
    }
  }

  private LevelRule level(String name, LevelRule usual) {
    String prefix = "alert." + name + "_";
    double margin = in.number(prefix + "margin_pct", -100, 500, usual.marginPercent());
    double time = in.number(prefix + "time_s", 0, 600, usual.timeSeconds());
    double on = in.number(prefix + "on_delay_s", 0, 60, usual.onDelaySeconds());
    double off = in.number(prefix + "off_delay_s", 0, 600, usual.offDelaySeconds());
    double hysteresis = in.number(prefix + "hysteresis_pct", 0, 100, usual.hysteresisPercent());
    return StrictProperties.complete(margin, time, on, off, hysteresis)
        ? new LevelRule(margin, time, on, off, hysteresis)
        : usual;
  }
}
