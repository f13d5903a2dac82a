package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.fit.sweep.CheckedFit;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.option.OutputFile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin fit array}. */
@Command(
    name = "array",
    mixinStandardHelpOptions = true,
    description = {
      "Fits the single-diode model to the current-voltage points of a cell, a string or the whole"
          + " array.",
      "",
      "The CSV has voltage_v, current_a (or ohm, the known resistor at each point), and optionally"
          + " irradiance_w_m2 and cell_c. A folder stands for all its CSV files: each is fitted and"
          + " printed in one line, then all are fitted together as one array. A file with sweeps at"
          + " several temperatures, one after another, is treated the same way."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin fit array sweep.csv --series 48 --cell-c 41 --irradiance 870 \\",
      "      --plot sweep.png --out cells.properties",
      "  margin fit array resistors.csv --series 48 --light-drift 3",
      "  margin fit array sweeps/ --series 48 --voc-coeff -0.29 --table sweeps.csv \\",
      "      --out cells.properties"
    })
public final class ArrayCommand implements Callable<Integer> {

  /**
   * A file whose cell temperatures spread by this much, K, may hold several sweeps: engineering
   * judgement.
   */
  private static final double LEAST_KELVIN = 5;

  /** Fewest points of each sweep where a file holds several: engineering judgement. */
  private static final int FEWEST = 8;

  @Spec private CommandSpec spec;

  @Parameters(
      paramLabel = "SWEEP",
      description = "points, CSV of at most 5000 rows; or a folder of such files")
  private Path input;

  @Mixin private SweepOptions options;

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

  @Option(
      names = "--plot",
      paramLabel = "FILE",
      description = "draw points, curve, residuals and knee of one sweep, .png")
  private OutputFile plot;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write curve, residuals and parameters of one sweep as one HTML page")
  private OutputFile page;

  @Option(
      names = "--table",
      paramLabel = "FILE",
      description = "write a line for each of several sweeps, CSV")
  private OutputFile table;

  /** A command with no options yet; picocli fills them in. */
  public ArrayCommand() {}

  @Override
  public Integer call() throws IOException {
    String fault = options.fault();
    if (fault != null) {
      throw new ParameterException(spec.commandLine(), fault);
    }
    if (into != null) {
      intoProfile().require();
    }
    if (Files.isDirectory(input)) {
      several(SweepFolder.files(input, options));
      return CommandLine.ExitCode.OK;
    }
    Sweep sweep = options.read(input);
    List<Sweep> parts = sweep.celsiusSpread() >= LEAST_KELVIN ? sweep.parts() : List.of(sweep);
    if (parts.size() > 1 && parts.stream().allMatch(part -> part.size() >= FEWEST)) {
      several(SweepFolder.parts(parts));
    } else if (table != null) {
      throw new ParameterException(spec.commandLine(), "--table needs several sweeps");
    } else {
      one(sweep, spec.commandLine().getOut());
    }
    return CommandLine.ExitCode.OK;
  }

  private void several(List<SweepFolder.Source> sources) throws IOException {
    if (plot != null || page != null) {
      throw new ParameterException(
          spec.commandLine(),
          "--plot and --report show one sweep: give its file instead of a folder or of a file with"
              + " several sweeps; --table writes a line for each sweep");
    }
    PrintWriter out = spec.commandLine().getOut();
    new SweepFolder(sources, options.fit(), out, spec.commandLine().getErr())
        .run(table, fragment, into);
  }

  private IntoProfile intoProfile() {
    return new IntoProfile(into, spec.commandLine().getOut());
  }

  private void one(Sweep sweep, PrintWriter out) throws IOException {
    boolean[] drawn = {false};
    FitResult fit;
    try {
      fit =
          CheckedFit.of(
              sweep,
              options.fit(),
              found -> {
                if (plot != null) {
                  SweepPlot.write(found, plot.path());
                  drawn[0] = true;
                }
              });
    } catch (InputFault refused) {
      throw drawn[0] ? new InputFault(refused.getMessage() + "; see " + plot) : refused;
    }
    boolean averaged = sweep.sunsSpread() > 0 && fit.sweep().sunsSpread() == 0;
    String light =
        "the points fit the mean light better than the light stated for each: the mean is used";
    List<String> implausible = FitCautions.of(fit, into);
    new FitText(out).print(fit, averaged ? light : options.assumed(sweep), implausible);
    if (page != null) {
      AtomicFile.write(page.path(), file -> new FitPage(fit, implausible).write(file.writer()));
    }
    if (into != null) {
      out.println();
      intoProfile().put(to -> ProfileLines.cell(fit, to), IntoProfile.DATA_SHEET, "fit array");
    }
    if (fragment != null) {
      AtomicFile.write(fragment.path(), file -> ProfileLines.cell(fit, file.writer()));
      out.println();
      out.println("Profile lines in " + fragment + ": replace the profile's cell.* with them");
    }
    out.flush();
  }
}
