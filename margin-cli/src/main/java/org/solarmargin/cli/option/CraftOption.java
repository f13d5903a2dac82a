package org.solarmargin.cli.option;

import java.nio.file.Path;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine.Option;

/** The option that names the craft profile. */
public final class CraftOption {

  @Option(
      names = "--craft",
      required = true,
      paramLabel = "PROFILE",
      description = "craft profile, .properties")
  private Path file;

  /** An option, filled in by picocli. */
  public CraftOption() {}

  /**
   * The profile's file.
   *
   * @return as given
   */
  public Path file() {
    return file;
  }

  /**
   * Reads the profile.
   *
   * @return the profile
   * @throws InputFault if it cannot be read
   */
  public CraftProfile read() {
    return Inputs.profile(file);
  }
}
