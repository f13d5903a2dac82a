package org.solarmargin.core.profile;

import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** The keys of the craft profile, their ranges and defaults. */
final class ProfileReader {

  private static final String[] SHEET = {"cell.isc_a", "cell.voc_v", "cell.impp_a", "cell.vmpp_v"};
  private static final String[] MODEL = {
    "cell.photocurrent_a", "cell.saturation_a", "cell.ideality", "cell.series_ohm", "cell.shunt_ohm"
  };
  private static final String[] HOVER = {
    "rotor.hover_throttle", "rotor.hover_power_w", "rotor.hover_bus_v"
  };

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
  private static final String VOC_COEFF = "cell.voc_temp_coeff_pct_per_c";
  private static final double REFERENCE_CELSIUS = 25;

  /** Guess of the hover point where the profile gives none: common practice, no source. */
  private static final double GUESS_THROTTLE = 0.5;

  private static final double GUESS_POWER_SHARE = 0.55;
  private static final double GUESS_VOLTS_SHARE = 0.88;

  private final StrictProperties in;

  ProfileReader(StrictProperties in) {
    this.in = in;
  }

  CraftProfile read() {
    String name = in.text("craft.name", "craft");
    double mass = in.number(MASS, 0.01, 10_000, Double.NaN);
    int series = in.integer("array.series_cells", 1, 10_000);
    int parallel = in.integer("array.parallel_strings", 1, 10_000);
    double iscCoeff =
        in.number(
                "cell.isc_temp_coeff_pct_per_c",
                -1,
                1,
                100 * DataSheet.DEFAULT_ISC_TEMP_COEFF_PER_KELVIN)
            / 100;
    boolean vocCoeffStated = in.has(VOC_COEFF);
    double vocCoeff =
        in.number(VOC_COEFF, -1, -1e-6, 100 * DataSheet.DEFAULT_VOC_TEMP_COEFF_PER_KELVIN) / 100;
    double vocCoeffSd =
        in.number(
                "cell.voc_temp_coeff_sd_pct_per_c",
                0,
                0.5,
                100
                    * (vocCoeffStated
                        ? EstimatorSettings.CellSpread.STATED_VOC_COEFF_SD
                        : EstimatorSettings.CellSpread.UNSTATED_VOC_COEFF_SD))
            / 100;
    double bench = in.number("cell.bench_c", -50, 130, REFERENCE_CELSIUS);
    CellParameters cell = cell(iscCoeff, vocCoeff, bench);
    double seriesSd =
        in.number(
            "cell.series_ohm_sd_pct",
            0,
            100,
            100 * EstimatorSettings.CellSpread.DEFAULT.seriesLogSd());
    double idealitySd =
        in.number(
            "cell.ideality_sd_pct",
            0,
            100,
            100 * EstimatorSettings.CellSpread.DEFAULT.idealityLogSd());
    double ambient = in.number("thermal.ambient_c", -60, 60, 25);
    double rise = in.number("thermal.sun_rise_c", 0, 90, 25);
    double lag = in.number("thermal.time_constant_s", 0.5, 3600, 15);
    int rotors = in.integer("rotor.count", 1, 64, 4);
    double diameter = in.number("rotor.diameter_m", 0.05, 5, Double.NaN);
    double house = in.number("housekeeping.power_w", 0, 1e5, 3);
    double brownout = in.number("bus.brownout_v", 0, 1e4, Double.NaN);
    boolean hoverKnown = together(HOVER);
    double hoverThrottle = in.number(HOVER[0], 0.05, 1, GUESS_THROTTLE);
    double hoverWatts = in.number(HOVER[1], 0.1, 1e6, Double.NaN);
    double hoverVolts = in.number(HOVER[2], 0.1, 1e4, Double.NaN);
    if (hoverKnown && hoverWatts <= house) {
      in.faultOf(HOVER[1], HOVER[1] + " must exceed housekeeping.power_w");
    }
    if (cell != null && !in.faulty()) {
      SolarArray array = new SolarArray(cell, series, parallel);
      checkHover(new HoverCheck(mass, rotors, diameter), array, hoverKnown, hoverWatts, house);
    }
    double voltageNoise = in.number("sensor.voltage_noise_v", 1e-6, 100, 0.02);
    double currentNoise = in.number("sensor.current_noise_a", 1e-6, 100, 0.05);
    double voltageGain = in.number("sensor.voltage_gain_sd_pct", 0, 50, 0.5);
    double currentGain = in.number("sensor.current_gain_sd_pct", 0, 50, 1.5);
    double currentOffset = in.number("sensor.current_offset_sd_a", 0, 100, 0.05);
    double shadowShare =
        in.number("light.shadow_share", 0, 0.9, EstimatorSettings.DEFAULT_SHADOW_SHARE);
    TimeModel timing = timing();
    AlertRules rules = rules();
    LogSources sources = LogSources.read(in);
    in.finish();
    if (!hoverKnown) {
      SolarArray array = new SolarArray(cell, series, parallel);
      array.solvePeak();
      hoverWatts = house + GUESS_POWER_SHARE * array.peakWatts();
      hoverVolts = GUESS_VOLTS_SHARE * array.openCircuitVolts();
    }
    EstimatorSettings settings =
        new EstimatorSettings(
            cell,
            new EstimatorSettings.CellSpread(seriesSd / 100, idealitySd / 100, vocCoeffSd),
            series,
            parallel,
            new EstimatorSettings.Thermal(ambient, rise, lag),
            new EstimatorSettings.Rotor(hoverThrottle, hoverWatts, hoverVolts, hoverKnown, house),
            new EstimatorSettings.Sensors(
                voltageNoise, currentNoise, voltageGain / 100, currentGain / 100, currentOffset),
            timing,
            shadowShare);
    return new CraftProfile(name, mass, rotors, diameter, settings, rules, brownout, sources);
  }

  private void checkHover(
      HoverCheck check, SolarArray array, boolean known, double watts, double house) {
    if (known) {
      HoverCheck.ofArray(in, HOVER[1], watts, array);
      check.ofRotors(in, HOVER[1], watts - house);
      check.ofMass(in, MASS, watts - house);
    } else {
      array.solvePeak();
      check.ofMass(in, MASS, array.peakWatts());
    }
  }

  /** The time model: stated as soon as one of its keys is given. */
  private TimeModel timing() {
    boolean stated = startedAny(TIMING);
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

  /** All of these keys, or none; a part is a fault. */
  private boolean together(String... keys) {
    int there = 0;
    StringBuilder missing = new StringBuilder();
    for (String key : keys) {
      if (in.has(key)) {
        there++;
      } else {
        missing.append(' ').append(key);
      }
    }
    if (there > 0 && there < keys.length) {
      in.fault("give all of " + String.join(", ", keys) + " or none; missing:" + missing);
    }
    return there == keys.length;
  }

  private CellParameters cell(double iscCoeff, double vocCoeff, double bench) {
    boolean sheetStarted = startedAny(SHEET);
    boolean modelStarted = startedAny(MODEL);
    if (sheetStarted == modelStarted) {
      in.fault(
          "describe the cell by "
              + String.join(", ", SHEET)
              + " or by "
              + String.join(", ", MODEL)
              + (sheetStarted ? ", not both" : ""));
      return null;
    }
    try {
      if (sheetStarted) {
        double isc = in.number(SHEET[0], 1e-4, 1e3);
        double voc = in.number(SHEET[1], 1e-3, 10);
        double impp = in.number(SHEET[2], 1e-4, 1e3);
        double vmpp = in.number(SHEET[3], 1e-3, 10);
        boolean complete =
            isc > 0
                && voc > 0
                && impp > 0
                && vmpp > 0
                && !Double.isNaN(iscCoeff + bench)
                && vocCoeff < 0;
        return complete
            ? new DataSheet(isc, voc, impp, vmpp, iscCoeff, vocCoeff)
                .toParameters()
                .withVocTempCoeff(vocCoeff, bench)
            : null;
      }
      double photocurrent = in.number(MODEL[0], 1e-4, 1e3);
      double saturation = in.number(MODEL[1], 1e-30, 1);
      double ideality = in.number(MODEL[2], 0.3, 5);
      double seriesOhms = in.number(MODEL[3], 0, 100);
      double shuntOhms = in.number(MODEL[4], 1e-3, 1e12);
      boolean complete =
          photocurrent > 0
              && saturation > 0
              && ideality > 0
              && seriesOhms >= 0
              && shuntOhms > 0
              && !Double.isNaN(iscCoeff + bench)
              && vocCoeff < 0;
      return complete
          ? new CellParameters(
              photocurrent, saturation, ideality, seriesOhms, shuntOhms, iscCoeff, vocCoeff, bench)
          : null;
    } catch (IllegalArgumentException e) {
      in.fault("the cell cannot be: " + e.getMessage());
      return null;
    }
  }

  private boolean startedAny(String... keys) {
    boolean any = false;
    for (String key : keys) {
      any |= in.has(key);
    }
    return any;
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
    boolean complete = !Double.isNaN(margin + time + on + off + hysteresis);
    return complete ? new LevelRule(margin, time, on, off, hysteresis) : usual;
  }
}
