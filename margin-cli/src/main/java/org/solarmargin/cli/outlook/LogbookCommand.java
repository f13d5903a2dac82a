package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.option.ColumnOption;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.core.profile.CraftProfile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code margin logbook}. */
@Command(
    name = "logbook",
    mixinStandardHelpOptions = true,
    description = {
      "Prints one line per flight with light, cell temperature and hover power compared with the"
          + " clear-sky forecast for its time, and trends over the flights: ageing, dirt, a cracked"
          + " cell, worn propellers.",
      "",
      "The time of a flight comes from dates or epoch times in the log's time column, or from a"
          + " comment # start: 2026-06-21T12:00:00Z at its top. Advisory only, not certified."
    },
    footerHeading = "%nExample:%n",
    footer = {
      "  margin logbook flights --craft stilt.properties --at 53.7,7.7 --air-c 15 \\",
      "      --report book.html"
    })
public final class LogbookCommand implements Callable<Integer> {

  @Spec private CommandSpec spec;

  @Parameters(
      arity = "1..*",
      paramLabel = "LOG",
      description = "flight logs, or folders of .csv logs")
  private List<Path> logs = new ArrayList<>();

  @Mixin private CraftOption craft;

  @Mixin private SiteOptions site;

  @Mixin private ColumnOption columns;

  @Option(names = "--csv", paramLabel = "FILE", description = "write a line for each flight")
  private OutputFile csv;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description = "write flights and trends as one HTML page")
  private OutputFile report;

  private final List<String> leftOut = new ArrayList<>();

  /** A command with no options yet; picocli fills them in. */
  public LogbookCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    Lines out = new Lines(spec.commandLine().getOut());
    DayQuestion asked;
    try {
      asked = site.question(profile, LocalDate.EPOCH, Duration.ofMinutes(1));
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    List<FlownOutlook> flown = read(asked, columns.read(spec, profile));
    if (flown.isEmpty()) {
      throw new InputFault(
          "none of "
              + leftOut.size()
              + " flights can be used: "
              + leftOut.get(0)
              + (leftOut.size() > 1 ? " (and others)" : ""));
    }
    Logbook logbook = new Logbook(flown);
    print(logbook, asked, out);
    if (csv != null) {
      AtomicFile.write(csv.path(), file -> write(logbook, file.writer()));
    }
    if (report != null) {
      LogbookPage page = new LogbookPage(logbook, asked, leftOut);
      AtomicFile.write(report.path(), file -> page.write(file.writer()));
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private List<FlownOutlook> read(DayQuestion asked, ColumnMap map) throws IOException {
    List<Path> files = LogFiles.of(logs);
    List<FlownOutlook> flown = new ArrayList<>();
    try (Progress progress =
        new Progress(spec.commandLine().getErr(), Progress.terminal(), "reading", files.size())) {
      for (int i = 0; i < files.size(); i++) {
        try {
          flown.add(flown(asked, files.get(i), map));
        } catch (InputFault fault) {
          leftOut.add(fault.getMessage());
        }
        progress.step(i + 1);
      }
    }
    return flown;
  }

  private static FlownOutlook flown(DayQuestion asked, Path file, ColumnMap map)
      throws IOException {
    MeasuredFlight flight = MeasuredFlight.read(asked, file, map, Progress.none());
    Optional<Instant> start = flight.start();
    if (start.isEmpty()) {
      throw new InputFault(
          file
              + ": does not state when it was flown: put a comment at its top, # start:"
              + " 2026-06-21T12:00:00Z");
    }
    FlownOutlook flown = new FlownOutlook(asked, flight, start.get());
    if (!flown.sunUp()) {
      throw new InputFault(
          file + ": the sun must be up at --at during the flight: " + flown.when());
    }
    return flown;
  }

  private void print(Logbook logbook, DayQuestion asked, Lines out) {
    out.line("%s, logbook of %d flights", asked.profile().name(), logbook.flights().size());
    out.rule();
    out.line(
        "%-16s %6s %7s %7s %7s %7s  %s", "start", "min", "light", "cells", "hover", "dim", "log");
    out.line("%-16s %6s %7s %7s %7s %7s", "", "", "%", "K off", "%", "%");
    for (FlownOutlook f : logbook.flights()) {
      out.line(
          "%s %s %6.1f %7.1f %+7.1f %7.1f %7.0f  %s%s",
          f.from().toLocalDate(),
          OutlookText.CLOCK.format(f.from()),
          f.minutes(),
          100 * f.lightRatio(),
          f.heatOff(),
          100 * f.hoverRatio(),
          100 * f.flight().unevenShare(),
          f.flight().name(),
          f.movingLight() ? " (moving light)" : "");
    }
    out.blank();
    OutlookText text = new OutlookText(out);
    logbook.sentences().forEach(text::wrapped);
    if (!leftOut.isEmpty()) {
      out.blank();
      leftOut.forEach(line -> text.wrapped("left out: " + line));
    }
    out.blank();
    text.wrapped(Logbook.NOTE);
    text.printBasis(asked);
  }

  private static void write(Logbook logbook, Writer to) throws IOException {
    to.write("start,log,minutes,light_ratio,light_spread,cells_off_k,hover_ratio,uneven_share\n");
    for (FlownOutlook f : logbook.flights()) {
      to.write(
          String.format(
              Locale.ROOT,
              "%s,%s,%.2f,%.4f,%.4f,%.2f,%.4f,%.3f\n",
              f.from().toOffsetDateTime(),
              CsvText.field(f.flight().name()),
              f.minutes(),
              f.lightRatio(),
              f.lightSpread(),
              f.heatOff(),
              f.hoverRatio(),
              f.flight().unevenShare()));
    }
  }
}
