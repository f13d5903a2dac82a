package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.text.WholeFile;
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
      "CSV with voltage_v, current_a, and if there are any irradiance_w_m2, cell_c. A folder stands"
          + " for all its CSV files, one line each."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin fit array sweep.csv --series 48 --cell-c 41 --irradiance 870 \\",
      "      --plot sweep.png --out cells.properties",
      "  margin fit array resistors.csv --series 48 --light-drift 3",
      "  margin fit array sweeps/ --series 48 --table sweeps.csv"
    })
public final class ArrayCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "SWEEP", description = "points, CSV; or a folder of such files")
  private Path input;

  @Mixin private SweepOptions options;

  @Option(
      names = "--out",
      paramLabel = "FILE",
      description = "write the lines for the craft profile, .properties")
  private Path fragment;

  @Option(
      names = "--plot",
      paramLabel = "FILE",
      description = "draw points, curve, residuals and knee, .png")
  private Path plot;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write curve, residuals and parameters as one page to look at, .html")
  private Path page;

  @Option(
      names = "--table",
      paramLabel = "FILE",
      description = "of a folder: write a line for each sweep, CSV")
  private Path table;

  /** A command with no options yet; picocli fills them in. */
  public ArrayCommand() {}

  @Override
  public Integer call() throws IOException {
    String fault = options.fault();
    boolean folder = Files.isDirectory(input);
    if (fault == null && folder && (fragment != null || plot != null || page != null)) {
      fault = "--out, --plot and --report are of one sweep: give a file, not a folder";
    }
    if (fault == null && !folder && table != null) {
      fault = "--table is of a folder of sweeps";
    }
    if (fault != null) {
      throw new ParameterException(spec.commandLine(), fault);
    }
    PrintWriter out = spec.commandLine().getOut();
    if (folder) {
      new SweepFolder(input, options, out, spec.commandLine().getErr()).run(table);
      return CommandLine.ExitCode.OK;
    }
    one(out);
    return CommandLine.ExitCode.OK;
  }

  private void one(PrintWriter out) throws IOException {
    Sweep sweep = options.read(input);
    boolean[] drawn = {false};
    FitResult fit;
    try {
      fit =
          CheckedFit.of(
              sweep,
              options.fit(),
              found -> {
                if (plot != null) {
                  SweepPlot.write(found, plot);
                  drawn[0] = true;
                }
              });
    } catch (InputFault refused) {
      throw drawn[0] ? new InputFault(refused.getMessage() + "; see " + plot) : refused;
    }
    boolean averaged = sweep.sunsSpread() > 0 && fit.sweep().sunsSpread() == 0;
    String light = "the points fit the mean light better than each its own: the mean is used";
    new FitText(out).print(fit, averaged ? light : options.assumed(sweep));
    if (page != null) {
      WholeFile.write(page, file -> new FitPage(fit).write(file.writer()));
    }
    if (fragment != null) {
      WholeFile.write(fragment, file -> ProfileLines.cell(fit, file.writer()));
      out.println();
      out.println("Profile lines in " + fragment + ": put them in place of the profile's cell.*");
    }
    out.flush();
  }
}
