package org.solarmargin.sim.scenario;

import java.io.IOException;
import java.nio.file.Path;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesFile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.flight.FlightPlan;
import org.solarmargin.sim.flight.LogSpec;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.timing.CommandTiming;

/**
 * A scenario as stated in its file; {@link SetupMaker} creates flights from it.
 *
 * @param title one line for display
 * @param plan heights over time
 * @param sky light
 * @param air wind and temperature
 * @param craft rotors and motors
 * @param array deviations of the cells
 * @param sensors errors of the sensors
 * @param log format of the log
 * @param limiter whether the throttle is limited to the estimator's ceiling
 * @param variation random variation in trials
 */
public record Scenario(
    String title,
    FlightPlan plan,
    SkySpec sky,
    Air air,
    CraftSpec craft,
    ArraySpec array,
    SensorErrors sensors,
    LogSpec log,
    boolean limiter,
    Variation variation) {

  /**
   * Properties of rotors and motors that the profile does not state.
   *
   * @param rotor each rotor
   * @param motor each motor with its controller
   * @param command delay and lag from the commanded to the acting throttle
   * @param massFactor factor on the profile's mass
   */
  public record CraftSpec(
      RotorSpec rotor, MotorSpec motor, CommandTiming command, double massFactor) {}

  /**
   * A rotor.
   *
   * @param diameterMetres diameter, m; NaN for the profile's
   * @param thrustCoefficient CT
   * @param figureOfMerit ideal over real power; NaN for that of the profile's hover point
   */
  public record RotorSpec(double diameterMetres, double thrustCoefficient, double figureOfMerit) {}

  /**
   * A motor with its controller.
   *
   * @param copperShare voltage drop across the resistance over the winding voltage in hover
   * @param noLoadShare no-load current over the motor current in hover
   * @param driveEfficiency efficiency of the controller
   * @param motorSeconds time constant of the rotor speed, s
   */
  public record MotorSpec(
      double copperShare, double noLoadShare, double driveEfficiency, double motorSeconds) {}

  /**
   * Random variation of a scenario in trials; sigmas are relative unless the name says otherwise.
   *
   * @param weather variation of light and air
   * @param craft variation of mass and cells
   * @param calibration whether sensor gains and offsets are drawn from the profile's sigmas
   * @param logger whether the logger's time model is drawn, see {@link LoggerDraw}
   */
  public record Variation(
      WeatherSpread weather, CraftSpread craft, boolean calibration, boolean logger) {}

  /**
   * Random variation of light and air in trials.
   *
   * @param lightSd sigma of the clear light
   * @param depthSd sigma of the depth of clouds
   * @param timeSd sigma of cloud speed and ramp slope
   * @param airSdCelsius sigma of the air temperature, K
   */
  public record WeatherSpread(double lightSd, double depthSd, double timeSd, double airSdCelsius) {}

  /**
   * Random variation of the craft in trials.
   *
   * @param massSd sigma of the mass
   * @param seriesSd sigma of the cells' series resistance
   * @param vocCoeffSd sigma of the cells' temperature coefficient of the open-circuit voltage, 1/K
   */
  public record CraftSpread(double massSd, double seriesSd, double vocCoeffSd) {}

  /**
   * The same scenario flown with cells and sensors as stated by profile and scenario: trials vary
   * only light, clouds, air and mass.
   *
   * @return the scenario, without variation of calibration and cells
   */
  public Scenario withKnownCellsAndSensors() {
    CraftSpread massAlone = new CraftSpread(variation.craft().massSd(), 0, 0);
    return varied(new Variation(variation.weather(), massAlone, false, variation.logger()));
  }

  /**
   * The same scenario with a logger drawn for each flight of a trial.
   *
   * @return the scenario, whose variation includes the draw of {@link LoggerDraw}
   */
  public Scenario withDrawnLogger() {
    Variation v = variation;
    return varied(new Variation(v.weather(), v.craft(), v.calibration(), true));
  }

  private Scenario varied(Variation other) {
    return new Scenario(title, plan, sky, air, craft, array, sensors, log, limiter, other);
  }

  /**
   * Reads a scenario, UTF-8.
   *
   * @param file the file
   * @param profile the craft that flies it, which provides defaults for sensors and air
   * @return the scenario
   * @throws IOException if the file cannot be read
   * @throws org.solarmargin.core.profile.PropertiesException with all faults, if there are any
   */
  public static Scenario read(Path file, CraftProfile profile) throws IOException {
    StrictProperties text = new StrictProperties(file.toString(), PropertiesFile.read(file));
    return new ScenarioReader(text, file.toAbsolutePath().getParent(), profile).read();
  }

  /**
   * Reads a scenario from a text without a file of its own.
   *
   * @param text the scenario; the path of a recording is relative to the working folder
   * @param profile the craft that flies it
   * @return the scenario
   */
  public static Scenario of(StrictProperties text, CraftProfile profile) {
    return new ScenarioReader(text, Path.of("").toAbsolutePath(), profile).read();
  }
}
