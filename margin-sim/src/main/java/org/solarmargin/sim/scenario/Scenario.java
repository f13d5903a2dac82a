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
 * A scenario as its file states it; {@link SetupMaker} turns it into flights.
 *
 * @param title one line for people
 * @param plan heights over time
 * @param sky light
 * @param air wind and temperature
 * @param craft rotors and motors
 * @param array cells that differ
 * @param sensors what is wrong with the sensors
 * @param log how the log is written
 * @param limiter whether the throttle is held under the estimator's ceiling
 * @param variation how far trials vary things
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
   * Rotors and motors beyond the profile.
   *
   * @param rotor each rotor
   * @param motor each motor with its controller
   * @param command how the motors follow the commanded throttle
   * @param massFactor on the profile's mass
   */
  public record CraftSpec(
      RotorSpec rotor, MotorSpec motor, CommandTiming command, double massFactor) {}

  /**
   * A rotor.
   *
   * @param diameterMetres its diameter; NaN for the profile's
   * @param thrustCoefficient CT
   * @param figureOfMerit ideal over real power; NaN for the one that the profile's hover has
   */
  public record RotorSpec(double diameterMetres, double thrustCoefficient, double figureOfMerit) {}

  /**
   * A motor with its controller.
   *
   * @param copperShare of the winding voltage in hover
   * @param noLoadShare of the motor current in hover
   * @param driveEfficiency of the controller
   * @param motorSeconds lag of the rotor's speed
   */
  public record MotorSpec(
      double copperShare, double noLoadShare, double driveEfficiency, double motorSeconds) {}

  /**
   * How far trials vary a scenario; sigmas are relative unless the name says otherwise.
   *
   * @param weather light and air
   * @param craft mass and cells
   * @param calibration whether sensor gains and offsets are drawn from the profile's sigmas
   * @param logger whether the logger's time model is drawn, see {@link LoggerDraw}
   */
  public record Variation(
      WeatherSpread weather, CraftSpread craft, boolean calibration, boolean logger) {}

  /**
   * How far trials vary light and air.
   *
   * @param lightSd of the clear light
   * @param depthSd of the depth of clouds
   * @param timeSd of cloud speed and ramp slope
   * @param airSdCelsius of the air temperature
   */
  public record WeatherSpread(double lightSd, double depthSd, double timeSd, double airSdCelsius) {}

  /**
   * How far trials vary the craft.
   *
   * @param massSd of the mass
   * @param seriesSd of the cells' series resistance
   * @param vocCoeffSd of the cells' coefficient of the open-circuit voltage, 1/K
   */
  public record CraftSpread(double massSd, double seriesSd, double vocCoeffSd) {}

  /**
   * The same scenario flown with cells and sensors as profile and scenario state them: trials vary
   * light, clouds, air and mass alone.
   *
   * @return the scenario, with what calibration and solder leave taken out of its variation
   */
  public Scenario withKnownCellsAndSensors() {
    CraftSpread massAlone = new CraftSpread(variation.craft().massSd(), 0, 0);
    return varied(new Variation(variation.weather(), massAlone, false, variation.logger()));
  }

  /**
   * The same scenario with a logger drawn for each flight of a trial.
   *
   * @return the scenario, with the draw of {@link LoggerDraw} in its variation
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
   * @param profile the craft that flies it: gives defaults for sensors and air
   * @return the scenario
   * @throws IOException if the file cannot be read
   * @throws org.solarmargin.core.profile.PropertiesException with all faults, if there is one
   */
  public static Scenario read(Path file, CraftProfile profile) throws IOException {
    StrictProperties text = new StrictProperties(file.toString(), PropertiesFile.read(file));
    return new ScenarioReader(text, file.toAbsolutePath().getParent(), profile).read();
  }

  /**
   * Reads a scenario from a text, with no file beside it.
   *
   * @param text the scenario; a recording's file is looked for in the working folder
   * @param profile the craft that flies it
   * @return the scenario
   */
  public static Scenario of(StrictProperties text, CraftProfile profile) {
    return new ScenarioReader(text, Path.of("").toAbsolutePath(), profile).read();
  }
}
