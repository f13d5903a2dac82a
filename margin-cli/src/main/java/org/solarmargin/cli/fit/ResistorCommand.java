package org.solarmargin.cli.fit;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.solarmargin.cli.fit.numeric.Root;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code margin fit resistor}. */
@Command(
    name = "resistor",
    mixinStandardHelpOptions = true,
    description = {
      "Recommends power resistors to load the array with, and their power ratings.",
      "",
      "Resistors get hot enough to burn skin, and an array cannot be switched off in light: cover"
          + " the array, wear gloves, and place the resistors on stone, away from the cells."
    })
public final class ResistorCommand implements Callable<Integer> {

  /**
   * Resistances relative to that of the MPP; they span the curve, with most points near the knee.
   * The choice is engineering judgement.
   */
  private static final double[] SPAN = {0.2, 0.5, 0.75, 0.9, 1, 1.12, 1.35, 2, 5};

  /**
   * Air temperatures at which a chassis-mounted wirewound resistor may carry its full rated load
   * and no load, C: MIL-PRF-39009 (1997), scope. At full load it heats up by their difference.
   */
  private static final double RATED_CELSIUS = 25;

  private static final double NO_LOAD_CELSIUS = 250;

  @Spec private CommandSpec spec;

  @Mixin private CraftOption craft;

  @Option(
      names = "--irradiance",
      defaultValue = "1000",
      paramLabel = "W_M2",
      description = "light (default: ${DEFAULT-VALUE})")
  private double irradiance;

  @Option(
      names = "--cell-c",
      paramLabel = "T",
      description =
          "cell temperature (default: the profile's air temperature plus the cells' rise in sun)")
  private Double cellCelsius;

  @Option(
      names = "--ohms",
      split = ",",
      paramLabel = "OHM",
      description = "resistances at hand, instead of the recommended ones")
  private List<Double> ohms = new ArrayList<>();

  /** A command with no options yet; picocli fills them in. */
  public ResistorCommand() {}

  @Override
  public Integer call() {
    if (!(irradiance >= 10 && irradiance <= 2500)) {
      throw new ParameterException(
          spec.commandLine(), "--irradiance must be in [10, 2500] W/m2: " + irradiance);
    }
    for (double r : ohms) {
      if (!(r > 0 && r < 1e6)) {
        throw new ParameterException(
            spec.commandLine(), "--ohms must be in (0, 1000000) ohm: " + r);
      }
    }
    EstimatorSettings settings = craft.read().settings();
    double suns = irradiance / 1000;
    double celsius =
        cellCelsius != null
            ? cellCelsius
            : settings.thermal().ambientCelsius() + settings.thermal().sunRiseKelvin() * suns;
    if (!(celsius >= -50 && celsius <= 130)) {
      throw new ParameterException(
          spec.commandLine(), "--cell-c must be in [-50, 130] C: " + celsius);
    }
    SolarArray array = settings.newArray();
    array.set(suns, celsius);
    array.solvePeak();
    print(array, celsius, new Lines(spec.commandLine().getOut()));
    return CommandLine.ExitCode.OK;
  }

  private void print(SolarArray array, double celsius, Lines out) {
    double best = array.peakVolts() / array.peakAmps();
    double[] watts = {array.peakWatts()};
    out.line(
        "At %.0f W/m2 and %.0f C: %.3g ohm puts the array at its MPP, %.4g V and %.4g A,",
        irradiance, celsius, best, array.peakVolts(), array.peakAmps());
    out.line(
        "and must dissipate %.0f W. Choose a rating of at least %.0f W, on a heat sink.",
        watts[0], 2 * watts[0]);
    out.blank();
    out.line("%10s %10s %10s %10s", "ohm", "V", "A", "W");
    List<Double> list = new ArrayList<>(ohms);
    if (list.isEmpty()) {
      for (double share : SPAN) {
        list.add(share * best);
      }
    }
    for (double r : list) {
      double volts = voltsOn(array, r);
      double power = volts * volts / r;
      out.line("%10.3g %10.4g %10.4g %10.1f", r, volts, volts / r, power);
    }
    out.blank();
    double rated = 2 * watts[0];
    out.line(
        "HOT: chassis-mounted resistors rated for %.0f W in all, on the metal plate that", rated);
    out.line(
        "their rating requires, reach about %.0f C at the MPP, more without it",
        RATED_CELSIUS + watts[0] / rated * (NO_LOAD_CELSIUS - RATED_CELSIUS));
    out.line(
        "(MIL-PRF-39009: full load at %.0f C, none at %.0f C). Connect for seconds, read,",
        RATED_CELSIUS, NO_LOAD_CELSIUS);
    out.text("then shade the array and disconnect.");
    BenchCautions cautions = new BenchCautions(out);
    cautions.cells(array.openCircuitVolts());
    cautions.advisory();
    out.flush();
  }

  private static double voltsOn(SolarArray array, double ohms) {
    return Root.of(volts -> array.ampsAt(volts) - volts / ohms, 0, array.openCircuitVolts());
  }
}
