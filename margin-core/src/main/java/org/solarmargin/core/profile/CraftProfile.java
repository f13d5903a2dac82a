package org.solarmargin.core.profile;

import java.io.IOException;
import java.nio.file.Path;
import java.util.SortedSet;
import java.util.TreeSet;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.timing.TimeModel;

/**
 * A craft profile: name and mass, the estimator's settings, the alert rules.
 *
 * @param name name for display; "craft" if the profile gives none
 * @param massKilograms mass, kg; NaN if the profile gives none
 * @param rotors number of rotors
 * @param rotorDiameterMetres diameter of each rotor, m; NaN if the profile gives none
 * @param settings settings of the estimator
 * @param rules alert rules
 * @param brownoutVolts bus voltage below which the electronics stop, V; NaN if the profile gives
 *     none
 * @param sources log columns and link messages that feed the estimator
 */
public record CraftProfile(
    String name,
    double massKilograms,
    int rotors,
    double rotorDiameterMetres,
    EstimatorSettings settings,
    AlertRules rules,
    double brownoutVolts,
    LogSources sources) {

  /**
   * The same craft with another time model of its readings.
   *
   * @param timing time model of readings and throttle
   * @return a new profile
   */
  public CraftProfile withTiming(TimeModel timing) {
    return with(settings.withTiming(timing));
  }

  /**
   * The same craft with other settings of the estimator.
   *
   * @param other not null
   * @return a new profile
   */
  public CraftProfile with(EstimatorSettings other) {
    return new CraftProfile(
        name, massKilograms, rotors, rotorDiameterMetres, other, rules, brownoutVolts, sources);
  }

  /**
   * All keys that a profile may have.
   *
   * @return in alphabetical order
   */
  public static SortedSet<String> keys() {
    StrictProperties none = new StrictProperties("", "");
    try {
      new ProfileReader(none).read();
    } catch (PropertiesException missing) {
      // required keys are missing, but all keys have been queried
      return new TreeSet<>(none.known());
    }
    throw new IllegalStateException("a profile without a key must be refused");
  }

  /**
   * Reads a profile from a file, UTF-8.
   *
   * @param file the file
   * @return the profile
   * @throws IOException if the file cannot be read
   * @throws PropertiesException with all faults, if there are any
   */
  public static CraftProfile read(Path file) throws IOException {
    return parse(file.toString(), PropertiesFile.read(file));
  }

  /**
   * Reads a profile from a text.
   *
   * @param source name for messages
   * @param text content in the form of a Java properties file
   * @return the profile
   * @throws PropertiesException with all faults, if there are any
   */
  public static CraftProfile parse(String source, String text) {
    return new ProfileReader(new StrictProperties(source, text)).read();
  }
}
