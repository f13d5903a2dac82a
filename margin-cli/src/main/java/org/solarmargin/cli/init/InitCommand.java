package org.solarmargin.cli.init;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.Callable;
import java.util.function.Function;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin init}. */
@Command(
    name = "init",
    mixinStandardHelpOptions = true,
    description = {
      "Writes a first profile for a craft: every key with its unit, its default and how to measure"
          + " it.",
      "",
      "At a terminal it asks for values that are not given as options; otherwise, every value"
          + " without a default must be given. An existing file is never overwritten."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin init stilt.properties --name Stilt --series 48 --isc 6.02 --voc 0.683 \\",
      "      --imp 5.70 --vmp 0.574 --mass-kg 1.6 --rotors 4 --diameter-m 0.5588"
    })
public final class InitCommand implements Callable<Integer> {

  private static final String SERIES = "array.series_cells";

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "PROFILE", description = "the file to write, .properties")
  private OutputFile profile;

  @Option(names = "--name", paramLabel = "NAME", description = "the craft's name")
  private String name;

  @Option(names = "--series", paramLabel = "N", description = "cells in series in each string")
  private String series;

  @Option(
      names = "--parallel",
      paramLabel = "M",
      description = "number of strings in parallel (default: 1)")
  private String parallel;

  @Option(names = "--isc", paramLabel = "A", description = "short-circuit current of one cell")
  private String isc;

  @Option(names = "--voc", paramLabel = "V", description = "open-circuit voltage of one cell")
  private String voc;

  @Option(names = "--imp", paramLabel = "A", description = "current of one cell at the MPP")
  private String imp;

  @Option(names = "--vmp", paramLabel = "V", description = "voltage of one cell at the MPP")
  private String vmp;

  @Option(
      names = "--isc-coeff",
      paramLabel = "PCT",
      description = "change of Isc, percent per C, if the data sheet states it")
  private String iscCoeff;

  @Option(
      names = "--voc-coeff",
      paramLabel = "PCT",
      description = "change of Voc, percent per C, if the data sheet states it")
  private String vocCoeff;

  @Option(names = "--mass-kg", paramLabel = "KG", description = "take-off mass")
  private String mass;

  @Option(names = "--rotors", paramLabel = "N", description = "number of rotors (default: 4)")
  private String rotors;

  @Option(names = "--diameter-m", paramLabel = "M", description = "diameter of each propeller")
  private String diameter;

  /** A command with no options yet; picocli fills them in. */
  public InitCommand() {}

  @Override
  public Integer call() throws IOException {
    if (Files.exists(profile.path())) {
      throw new ParameterException(
          spec.commandLine(), profile + ": exists already: give another name, or remove it first");
    }
    Map<String, String> given = answers();
    String bare = text(given);
    CraftProfile read = parsed(bare, faults -> OptionFaults.words(faults, given.get(SERIES)));
    double motors =
        HoverGuess.motorWatts(read.massKilograms(), read.rotors(), read.rotorDiameterMetres());
    double watts = motors + read.settings().rotor().housekeepingWatts();
    Map<String, String> hover = HoverGuess.lines(read.settings(), watts);
    given.putAll(hover);
    String whole = new ProfileText(given, hover.keySet()).text();
    parsed(whole, faults -> TooHeavy.words(read));
    AtomicFile.write(profile.path(), file -> file.writer().write(whole));
    PrintWriter out = spec.commandLine().getOut();
    out.println("profile  " + profile);
    out.println(
        String.format(
            java.util.Locale.ROOT,
            "The hover power of %.3g W is estimated by momentum theory. Weigh and measure, then"
                + " run: margin check %s",
            watts,
            profile));
    out.println(
        "Advisory only, not certified. An array cannot be switched off in light: cover it.");
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  /** Parses a profile that is not written yet, and refuses it in other words than the parser's. */
  private CraftProfile parsed(String text, Function<PropertiesException, String> words) {
    try {
      return CraftProfile.parse("options", text);
    } catch (PropertiesException faults) {
      throw new ParameterException(spec.commandLine(), words.apply(faults), faults);
    }
  }

  private static String text(Map<String, String> given) {
    StringBuilder text = new StringBuilder();
    given.forEach((key, value) -> text.append(key).append(" = ").append(value).append('\n'));
    return text.toString();
  }

  private Map<String, String> answers() throws IOException {
    Questions questions =
        new Questions(
            Progress.terminal(),
            new BufferedReader(new InputStreamReader(System.in, StandardCharsets.UTF_8)),
            spec.commandLine().getOut());
    Map<String, String> given = new LinkedHashMap<>();
    given.put("craft.name", questions.ask(name, "craft", "--name", "Name of the craft"));
    given.put("craft.mass_kg", questions.ask(mass, null, "--mass-kg", "Take-off mass, kg"));
    given.put(SERIES, questions.ask(series, null, "--series", "Cells in series"));
    given.put("array.parallel_strings", questions.ask(parallel, "1", "--parallel", "Strings"));
    given.put("cell.isc_a", questions.ask(isc, null, "--isc", "Isc of one cell, A"));
    given.put("cell.voc_v", questions.ask(voc, null, "--voc", "Voc of one cell, V"));
    given.put("cell.impp_a", questions.ask(imp, null, "--imp", "Current at the MPP, A"));
    given.put("cell.vmpp_v", questions.ask(vmp, null, "--vmp", "Voltage at the MPP, V"));
    given.put("rotor.count", questions.ask(rotors, "4", "--rotors", "Rotors"));
    given.put(
        "rotor.diameter_m", questions.ask(diameter, null, "--diameter-m", "Propeller diameter, m"));
    if (!questions.missing().isEmpty()) {
      throw new ParameterException(
          spec.commandLine(),
          "these options have no default and must be given: "
              + String.join(", ", questions.missing()));
    }
    if (iscCoeff != null) {
      given.put("cell.isc_temp_coeff_pct_per_c", iscCoeff);
    }
    if (vocCoeff != null) {
      given.put("cell.voc_temp_coeff_pct_per_c", vocCoeff);
    }
    return given;
  }
}
