package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Set;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.fit.rotor.Hover;
import org.solarmargin.cli.fit.rotor.RotorFit;
import org.solarmargin.cli.fit.rotor.Stand;
import org.solarmargin.cli.fit.rotor.ThrustLaw;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.air.StandardAtmosphere;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin fit rotor}. */
@Command(
    name = "rotor",
    mixinStandardHelpOptions = true,
    description = {
      "Fits motor and propeller to readings of a thrust stand, and finds the craft's hover point.",
      "",
      "The CSV has throttle (0 to 1), bus_v, bus_a, and optionally thrust_g and rpm. Spinning"
          + " propellers cut: stay out of their plane, behind a guard."
    },
    footerHeading = "%nExample:%n",
    footer = "  margin fit rotor stand.csv --craft stilt.properties --at-altitude 1500")
public final class RotorCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "STAND", description = "readings, CSV of at most 5000 rows")
  private Path file;

  @Mixin private CraftOption craft;

  @Option(
      names = "--motors",
      defaultValue = "1",
      paramLabel = "N",
      description = "motors on the stand (default: ${DEFAULT-VALUE})")
  private int motors;

  @Option(
      names = "--mass-kg",
      paramLabel = "KG",
      description = "mass of the craft (default: the profile's)")
  private Double mass;

  @Option(
      names = "--altitude",
      defaultValue = "0",
      paramLabel = "M",
      description = "altitude of the stand (default: ${DEFAULT-VALUE})")
  private double altitude;

  @Option(
      names = "--air-c",
      defaultValue = "15",
      paramLabel = "T",
      description = "air temperature at the stand (default: ${DEFAULT-VALUE})")
  private double airCelsius;

  @Option(
      names = "--at-altitude",
      defaultValue = "0",
      paramLabel = "M",
      description =
          "altitude of a flight to evaluate as well, in the standard atmosphere, m (default:"
              + " ${DEFAULT-VALUE})")
  private double flightAltitude;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "write the lines for the craft profile, .properties")
  private OutputFile fragment;

  @Option(
      names = "--into",
      paramLabel = "PROFILE",
      description = "put the lines into this profile, in place; comments and order are kept")
  private OutputFile into;

  /** A command with no options yet; picocli fills them in. */
  public RotorCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    double kilograms = mass == null ? profile.massKilograms() : mass;
    check(
        kilograms > 0.01 && kilograms < 10_000,
        "--mass-kg, or craft.mass_kg in the profile, must be in [0.01, 10000] kg",
        kilograms);
    check(motors >= 1 && motors <= 64, "--motors must be in [1, 64]", motors);
    check(airCelsius > -60 && airCelsius < 60, "--air-c must be in [-60, 60] C", airCelsius);
    check(altitude >= -500 && altitude <= 9000, "--altitude must be in [-500, 9000] m", altitude);
    check(
        flightAltitude >= -500 && flightAltitude <= 9000,
        "--at-altitude must be in [-500, 9000] m",
        flightAltitude);
    Stand stand = Stand.read(file);
    RotorFit fit = RotorFit.of(stand);
    ThrustLaw law = ThrustLaw.of(stand, fit);
    double density = StandardAtmosphere.density(altitude, airCelsius);
    stand.requirePossible(profile.rotorDiameterMetres(), motors, density);
    double there = StandardAtmosphere.density(flightAltitude);
    Hover here = law == null ? null : new Hover(profile, kilograms, motors, fit, law, 1);
    Hover away =
        law == null || flightAltitude == 0
            ? null
            : new Hover(profile, kilograms, motors, fit, law, there / density);
    PrintWriter out = spec.commandLine().getOut();
    new RotorText(out).print(fit, law, here, away, flightAltitude, density, there);
    if (fragment != null) {
      check(here != null, "--out needs thrust_g in the readings: rows with thrust_g", 0);
      AtomicFile.write(
          fragment.path(),
          to -> ProfileLines.hover(here, profile.rotors(), stand.name(), to.writer()));
      out.println("Profile lines in " + fragment);
    }
    if (into != null) {
      check(here != null, "--into needs thrust_g in the readings: rows with thrust_g", 0);
      IntoProfile profileFile = new IntoProfile(into, out);
      profileFile.require();
      profileFile.put(
          to -> ProfileLines.hover(here, profile.rotors(), stand.name(), to),
          Set.of(),
          "fit rotor");
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void check(boolean holds, String rule, double value) {
    if (!holds) {
      throw new ParameterException(spec.commandLine(), rule + ": " + value);
    }
  }
}
