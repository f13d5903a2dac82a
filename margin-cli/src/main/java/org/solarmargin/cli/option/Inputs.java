package org.solarmargin.cli.option;

import java.io.IOException;
import java.nio.charset.CharacterCodingException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesFile;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.scenario.SkySpec;
import picocli.CommandLine.Model.CommandSpec;

/** Reads the input files that several verbs share; faults are thrown as {@link InputFault}. */
public final class Inputs {

  private interface Read<T> {
    T read() throws IOException;
  }

  private Inputs() {}

  /**
   * Reads a craft profile.
   *
   * @param file the file
   * @return the profile
   */
  public static CraftProfile profile(Path file) {
    return orFault(file, () -> CraftProfile.read(file));
  }

  /**
   * Refuses a file that is to be changed later but is not a readable properties file.
   *
   * @param file the file
   * @throws InputFault if it cannot be read
   */
  public static void requireProperties(Path file) {
    orFault(file, () -> PropertiesFile.read(file));
  }

  /**
   * Reads a scenario.
   *
   * @param file the file
   * @param profile craft that flies it
   * @return the scenario
   */
  public static Scenario scenario(Path file, CraftProfile profile) {
    return orFault(file, () -> Scenario.read(file, profile));
  }

  /**
   * Creates the maker of a scenario's flights, which reads its recording.
   *
   * @param file the scenario's file, for messages
   * @param scenario the scenario
   * @param profile craft that flies it
   * @return the maker
   */
  public static SetupMaker maker(Path file, Scenario scenario, CraftProfile profile) {
    return orFault(file, () -> new SetupMaker(scenario, profile));
  }

  /**
   * Refuses outputs of a verb that would overwrite the recording used by a scenario.
   *
   * @param spec the verb's specification
   * @param scenario the scenario
   * @throws picocli.CommandLine.ParameterException if one would be written over it
   */
  public static void refuseOverRecording(CommandSpec spec, Scenario scenario) {
    if (scenario.sky().kind() == SkySpec.Kind.RECORDING) {
      OutputCheck.refuseOver(spec, "the scenario's recording", scenario.sky().file());
    }
  }

  private static <T> T orFault(Path file, Read<T> read) {
    try {
      return read.read();
    } catch (NoSuchFileException e) {
      throw new InputFault(e.getFile() + ": no such file");
    } catch (CharacterCodingException e) {
      throw new InputFault(file + ": not UTF-8 text: save it as UTF-8");
    } catch (IOException e) {
      throw new InputFault(file + ": cannot be read: " + e.getMessage());
    }
  }
}
