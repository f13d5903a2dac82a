package org.solarmargin.cli.fit;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.solarmargin.cli.fit.sweep.CheckedFit;
import org.solarmargin.cli.fit.sweep.CountCheck;
import org.solarmargin.cli.fit.sweep.FitOptions;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.PeerComparison;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.estimator.EstimatorSettings;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin fit cell}. */
@Command(
    name = "cell",
    mixinStandardHelpOptions = true,
    description = {
      "Converts a cell's data sheet into the five parameters of the single-diode model. With bench"
          + " sweeps, it also reports the losses from soldering and cover, and which sweep"
          + " underperforms its peers."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin fit cell --isc 6.02 --voc 0.683 --imp 5.70 --vmp 0.574",
      "  margin fit cell --craft stilt.properties north.csv south.csv --series 24 \\",
      "      --cell-c 38"
    })
public final class CellCommand implements Callable<Integer> {

  /** Source of the rated values. */
  static final class RatedValues {
    @Option(
        names = "--craft",
        required = true,
        paramLabel = "PROFILE",
        description = "craft profile whose cell gives the rated values")
    private Path craft;

    @ArgGroup(exclusive = false, multiplicity = "1")
    private Sheet sheet;

    /** Options, filled in by picocli. */
    RatedValues() {}
  }

  /** The four figures of a data sheet. */
  static final class Sheet {
    @Option(
        names = "--isc",
        required = true,
        paramLabel = "A",
        description = "short-circuit current")
    private double isc;

    @Option(
        names = "--voc",
        required = true,
        paramLabel = "V",
        description = "open-circuit voltage")
    private double voc;

    @Option(names = "--imp", required = true, paramLabel = "A", description = "current at the MPP")
    private double imp;

    @Option(names = "--vmp", required = true, paramLabel = "V", description = "voltage at the MPP")
    private double vmp;

    @Option(
        names = "--isc-coeff",
        paramLabel = "PCT",
        defaultValue = "0.05",
        description = "change of Isc, percent per C (default: ${DEFAULT-VALUE})")
    private double iscCoeff;

    @Option(
        names = "--voc-coeff",
        paramLabel = "PCT",
        defaultValue = "-0.33",
        description = "change of Voc, percent per C (default: ${DEFAULT-VALUE})")
    private double vocCoeff;

    /** Options, filled in by picocli. */
    Sheet() {}
  }

  @Spec private CommandSpec spec;

  @ArgGroup(multiplicity = "1")
  private RatedValues source;

  @Parameters(
      paramLabel = "SWEEP",
      arity = "0..*",
      description = "current-voltage points of cells or strings, CSV")
  private List<Path> sweeps = new ArrayList<>();

  @Option(
      names = "--series",
      defaultValue = "1",
      paramLabel = "N",
      description = "cells in series in each sweep (default: ${DEFAULT-VALUE})")
  private int series;

  @Option(
      names = "--parallel",
      defaultValue = "1",
      paramLabel = "M",
      description = "cells or strings in parallel in each sweep (default: ${DEFAULT-VALUE})")
  private int parallel;

  @Mixin private Conditions conditions;

  /** A command with no options yet; picocli fills them in. */
  public CellCommand() {}

  @Override
  public Integer call() {
    check("--series", series);
    check("--parallel", parallel);
    if (conditions.fault() != null) {
      throw new ParameterException(spec.commandLine(), conditions.fault());
    }
    CellParameters rated = rated();
    List<FitResult> fits = new ArrayList<>();
    FitOptions options =
        new FitOptions(
            rated.photocurrentTempCoeffPerKelvin(),
            rated.vocTempCoeffPerKelvin(),
            EstimatorSettings.CellSpread.STATED_VOC_COEFF_SD,
            0,
            Double.NaN);
    for (Path file : sweeps) {
      Sweep sweep = conditions.read(file, series, parallel);
      fits.add(CheckedFit.of(sweep, options));
    }
    PrintWriter out = spec.commandLine().getOut();
    CellText text = new CellText(out);
    text.rated(rated);
    if (!fits.isEmpty()) {
      PeerComparison peers = new PeerComparison(rated, fits);
      CountCheck counts = new CountCheck(peers);
      fits.forEach(counts::check);
      text.compared(peers, fit -> conditions.assumed(fit.sweep()));
    }
    text.cautions(sweeps.isEmpty() ? 0 : openCircuitVolts(fits));
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void check(String option, int count) {
    if (count < 1 || count > 10_000) {
      throw new ParameterException(spec.commandLine(), option + " must be in [1, 10000]: " + count);
    }
  }

  private static double openCircuitVolts(List<FitResult> fits) {
    return fits.stream()
        .mapToDouble(fit -> fit.array(1, fit.sweep().meanCelsius()).openCircuitVolts())
        .max()
        .orElse(0);
  }

  private CellParameters rated() {
    if (source.craft != null) {
      return Inputs.profile(source.craft).settings().cell();
    }
    Sheet s = source.sheet;
    try {
      return new DataSheet(s.isc, s.voc, s.imp, s.vmp, s.iscCoeff / 100, s.vocCoeff / 100)
          .toParameters();
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), "data sheet: " + e.getMessage(), e);
    }
  }
}
