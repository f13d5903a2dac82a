package org.solarmargin.sim.scenario;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PlainNumber;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.air.CoolingGusts;
import org.solarmargin.sim.air.SingleGust;
import org.solarmargin.sim.array.ArrayLayout.Shadow;
import org.solarmargin.sim.flight.FlightPlan;
import org.solarmargin.sim.flight.LogSpec;
import org.solarmargin.sim.flight.ThrottleRamp;
import org.solarmargin.sim.scenario.Scenario.CraftSpec;
import org.solarmargin.sim.scenario.Scenario.CraftSpread;
import org.solarmargin.sim.scenario.Scenario.MotorSpec;
import org.solarmargin.sim.scenario.Scenario.RotorSpec;
import org.solarmargin.sim.scenario.Scenario.Variation;
import org.solarmargin.sim.scenario.Scenario.WeatherSpread;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.DaySky;

/** The keys of a scenario file, their ranges and defaults. */
final class ScenarioReader {

  private static final double NEVER = Double.POSITIVE_INFINITY;

  /** Longest time, s: a day. */
  static final double LONGEST = 86_400;

  private final StrictProperties in;
  private final Path folder;
  private final CraftProfile profile;
  private final LoggerKeys logger;

  ScenarioReader(StrictProperties in, Path folder, CraftProfile profile) {
    this.in = in;
    this.folder = folder;
    this.profile = profile;
    this.logger = new LoggerKeys(in);
  }

  Scenario read() {
    String title = in.text("scenario.title", "flight");
    FlightPlan plan = plan();
    SkySpec sky = sky();
    Air air = air();
    CraftSpec craft = craft();
    ArraySpec array = array();
    SensorErrors sensors = logger.sensors(profile.settings().sensors());
    LogSpec log = logger.log();
    boolean limiter = Choices.flag(in, "limiter", false);
    Variation variation = variation();
    in.finish();
    return new Scenario(title, plan, sky, air, craft, array, sensors, log, limiter, variation);
  }

  private FlightPlan plan() {
    String text = in.text("plan", "");
    List<FlightPlan.Leg> legs = new ArrayList<>();
    if (text.isEmpty()) {
      in.fault(
          "plan is missing: give legs of HEIGHT_M:SECONDS, for example plan = 0:5, 10:60, 0:15");
    } else {
      for (String part : text.split(",", -1)) {
        leg(part.strip()).ifPresent(legs::add);
      }
    }
    if (legs.isEmpty()) {
      legs.add(new FlightPlan.Leg(0, 1));
    }
    double top = in.number("ramp.top", 0, 1, 0);
    double start = in.number("ramp.start_s", 0, LONGEST, 5);
    double rise = in.number("ramp.rise_s", 0.1, LONGEST, 25);
    boolean grounded = legs.stream().allMatch(leg -> leg.heightMetres() == 0);
    if (top > 0 && !grounded) {
      in.faultOf("plan", "plan must stay at height 0 with ramp.top: a ramp is flown on a tether");
    }
    return new FlightPlan(legs, new ThrottleRamp(start, rise, top));
  }

  private Optional<FlightPlan.Leg> leg(String text) {
    String[] parts = text.split(":", -1);
    try {
      double height = PlainNumber.parse(parts[0]);
      double seconds = parts.length == 2 ? PlainNumber.parse(parts[1]) : Double.NaN;
      if (height >= 0 && height <= 1000 && seconds > 0 && seconds <= LONGEST) {
        return Optional.of(new FlightPlan.Leg(height, seconds));
      }
    } catch (NumberFormatException e) {
      // named below
    }
    in.faultOf(
        "plan", "plan legs are HEIGHT_M:SECONDS, 0 to 1000 m, up to a day; not '" + text + "'");
    return Optional.empty();
  }

  private SkySpec sky() {
    SkySpec.Kind kind = Choices.oneOf(in, "sky.kind", SkySpec.Kind.CONSTANT);
    String start = in.text("sky.start", "2026-06-21T12:00:00Z");
    try {
      ZonedDateTime.parse(start);
    } catch (DateTimeException e) {
      in.faultOf("sky.start", "sky.start must be like 2026-06-21T12:00:00+02:00");
    }
    Path file = skyFile();
    if (kind == SkySpec.Kind.RECORDING && !in.has("sky.file")) {
      in.fault("sky.file is missing: a recording needs a CSV with time_s, irradiance_w_m2");
    }
    double suns = in.number("sky.suns", 0.01, 2, 0.95);
    double lowSuns = in.number("sky.low_suns", 0, 2, 0.5);
    if (kind == SkySpec.Kind.RAMPS && lowSuns > suns) {
      in.fault(
          "ramps need sky.low_suns (0.5 if not given) no higher than sky.suns (0.95): "
              + lowSuns
              + " and "
              + suns);
    }
    return new SkySpec(
        kind,
        suns,
        in.number("sky.start_s", 0, LONGEST, 20),
        new SkySpec.Ramps(
            lowSuns,
            in.number("sky.suns_per_s", 1e-5, 100, 0.005),
            in.number("sky.dwell_s", 0, LONGEST, 10),
            in.integer("sky.repeats", 0, 10_000, 1)),
        new SkySpec.Clouds(
            in.number("sky.depth", 0, 1, 0.3),
            in.number("sky.length_m", 1, 1e5, 150),
            in.number("sky.edge_m", 0.1, 1e4, 40),
            in.number("sky.speed_m_s", 0.1, 100, 9),
            in.number("sky.enhancement", 0, 1, 0.05),
            in.number("sky.cover", 0, 0.95, 0.4)),
        new SkySpec.Day(
            start,
            in.number("sky.latitude", -90, 90, 45),
            in.number("sky.longitude", -180, 180, 0),
            new DaySky.Attitude(
                in.number("sky.tilt_deg", -90, 90, 0),
                in.number("sky.heading_deg", 0, 360, 180),
                in.number("sky.turn_deg_s", -180, 180, 0),
                in.number("sky.swing_deg", 0, 60, 0),
                in.number("sky.swing_s", 0.1, 600, 5))),
        file);
  }

  /** The recording's path, beside the scenario; null if there is none. */
  private Path skyFile() {
    String file = in.text("sky.file", "");
    try {
      return file.isEmpty() ? null : folder.resolve(file);
    } catch (InvalidPathException e) {
      in.faultOf("sky.file", "sky.file must be the name of a file");
      return null;
    }
  }

  private Air air() {
    return new Air(
        in.number("air.temp_c", -40, 60, profile.settings().thermal().ambientCelsius()),
        in.number("air.site_m", -400, 6000, 0),
        in.number("air.wind_m_s", 0, 30, 2),
        in.number("air.turbulence_w20_m_s", 0, 30, 3),
        in.number("air.downwash_m_s", 0, 20, 4),
        new SingleGust(
            in.number("air.gust_start_s", 0, LONGEST, NEVER),
            in.number("air.gust_m_s", -10, 10, 1.5),
            in.number("air.gust_length_s", 0.1, 60, 2)),
        new CoolingGusts(
            in.number("air.cooling_m_s", 0, 20, 0), in.number("air.cooling_s", 1, 600, 40), 0));
  }

  private CraftSpec craft() {
    return new CraftSpec(
        new RotorSpec(
            in.number("craft.rotor_diameter_m", 0.05, 5, Double.NaN),
            in.number("craft.thrust_coefficient", 0.01, 0.3, 0.1),
            in.number("craft.figure_of_merit", 0.3, 0.9, Double.NaN)),
        new MotorSpec(
            in.number("craft.copper_share", 0.005, 0.4, 0.06),
            in.number("craft.no_load_share", 0, 0.5, 0.07),
            in.number("craft.drive_efficiency", 0.5, 1, 0.93),
            in.number("craft.motor_lag_s", 0.01, 1, 0.12)),
        logger.command(),
        in.number("craft.mass_factor", 0.5, 2, 1));
  }

  private ArraySpec array() {
    return new ArraySpec(
        new ArraySpec.OddCells(
            in.integer("array.odd_cells", 0, 10_000, 0),
            in.number("array.odd_light", 0, 2, 1),
            in.number("array.odd_temp_c", -50, 80, 0),
            in.number("array.odd_photocurrent", 0, 2, 1),
            in.number("array.odd_shunt", 1e-4, 10, 1),
            new Shadow(
                in.number("array.odd_shadow_start_s", 0, LONGEST, NEVER),
                in.number("array.odd_shadow_s", 0, LONGEST, 1),
                in.number("array.odd_shadow_every_s", 0.1, LONGEST, 10),
                in.number("array.odd_shadow_light", 0, 1, 0.5),
                in.number("array.odd_shadow_coming_s", 0, LONGEST, 0))),
        new ArraySpec.OtherCells(
            in.integer("array.other_cells", 0, 10_000, 0),
            in.number("array.other_light", 0, 2, 1),
            in.number("array.other_temp_c", -50, 80, 0)),
        new ArraySpec.AllCells(
            in.number("array.all_photocurrent", 0.1, 2, 1),
            in.number("array.all_series", 0, 10, 1),
            in.number("array.second_diode_a", 0, 1e-3, 0)),
        new ArraySpec.Wiring(
            in.integer("array.bypass_every", 0, 10_000, 0),
            Choices.flag(in, "array.blocking_diodes", false),
            in.number("array.weak_string_light", 0, 2, 1),
            in.number("array.string_lost_s", 0, LONGEST, NEVER)));
  }

  private Variation variation() {
    double vocCoeffSd = 100 * profile.settings().cellSpread().vocCoeffSdPerKelvin();
    return new Variation(
        new WeatherSpread(
            in.number("trial.light_sd", 0, 0.5, 0.03),
            in.number("trial.depth_sd", 0, 1, 0.15),
            in.number("trial.time_sd", 0, 1, 0.2),
            in.number("trial.air_sd_c", 0, 20, 3)),
        new CraftSpread(
            in.number("trial.mass_sd", 0, 0.3, 0.02),
            in.number("trial.series_sd", 0, 0.5, 0.08),
            in.number("trial.voc_coeff_sd_pct_per_c", 0, 0.5, vocCoeffSd) / 100),
        Choices.flag(in, "trial.calibration", true),
        Choices.flag(in, "trial.logger", false));
  }
}
