package org.solarmargin.cli.fit.logger;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.file.ProfileEdit;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.Inputs;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin fit logger}. */
@Command(
    name = "logger",
    mixinStandardHelpOptions = true,
    description = {
      "Identifies the timing of the logger's readings: filters, delays, rates and rounding.",
      "",
      "Spin-ups, throttle steps and gusts reveal it. Where they do not, the output says which"
          + " flight to make: on a tether, away from people."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin fit logger flight1.csv flight2.csv --craft stilt.properties \\",
      "      --into stilt.properties"
    })
public final class LoggerCommand implements Callable<Integer> {

  private static final String HEADING = "logger, by margin fit logger";

  @Spec private CommandSpec spec;

  @Parameters(paramLabel = "LOG", arity = "1..*", description = "flight logs of one craft, CSV")
  private List<Path> logs;

  @Mixin private CraftOption craft;

  @Mixin private ColumnOption columns;

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
  public LoggerCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    ColumnMap map = columns.read(spec, profile);
    if (into != null && !Files.isRegularFile(into.path())) {
      throw new InputFault(into + ": no such file: name the profile to put the lines into");
    }
    if (into != null) {
      Inputs.requireProperties(into.path());
    }
    List<LoggerFit> fits = new ArrayList<>();
    List<String> faults = new ArrayList<>();
    try (Progress progress =
        new Progress(spec.commandLine().getErr(), Progress.terminal(), "fitting", logs.size())) {
      progress.step(0);
      for (Path log : logs) {
        FlightRows rows = FlightRows.read(profile, log, map);
        rows.fault()
            .ifPresentOrElse(faults::add, () -> fits.add(LoggerFit.of(profile.settings(), rows)));
        progress.step(fits.size() + faults.size());
      }
    }
    if (fits.isEmpty()) {
      throw new InputFault(faults.get(0));
    }
    LoggerSummary logger = LoggerSummary.of(fits);
    Map<String, String> lines = LoggerLines.of(logger);
    PrintWriter out = spec.commandLine().getOut();
    new LoggerText(out).print(logger, lines);
    faults.forEach(fault -> out.println("Left out: " + fault));
    if (fragment == null && into == null) {
      out.flush();
      return CommandLine.ExitCode.OK;
    }
    if (!logger.determined()) {
      out.flush();
      throw new InputFault(
          logs.get(0)
              + ": the logger's filters, delays or both cannot be determined, so nothing is"
              + " written: fly throttle steps on a tether, logged at 20 rows a second or more");
    }
    if (fragment != null) {
      AtomicFile.write(
          fragment.path(),
          to -> {
            to.writer().write("# " + HEADING + "\n");
            for (Map.Entry<String, String> line : lines.entrySet()) {
              to.writer().write(line.getKey() + " = " + line.getValue() + "\n");
            }
          });
      out.println("Profile lines in " + fragment);
    }
    if (into != null) {
      ProfileEdit.into(into.path(), lines, HEADING);
      out.println("Profile lines put into " + into);
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }
}
