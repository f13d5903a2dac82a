package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.option.CraftOption;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesFile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code margin outlook}. */
@Command(
    name = "outlook",
    mixinStandardHelpOptions = true,
    description = {
      "Whether the array carries the craft at a place on a clear day, with what reserve, from when to"
          + " when.",
      "",
      "A clear sky is the upper limit: clouds and haze only take away. Advisory only, not certified."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-06-21 \\",
      "      --zone Europe/Berlin --air-c 12,19 --wind 3",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-06-21 --what-if",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-01-01 --season \\",
      "      --report year.html"
    })
public final class OutlookCommand implements Callable<Integer> {

  private static final int HOUR_MINUTES = 60;
  private static final Duration SEASON_STEP = Duration.ofMinutes(10);

  @Spec private CommandSpec spec;

  @Mixin private CraftOption craft;

  @Mixin private SiteOptions site;

  @Option(
      names = "--step",
      defaultValue = "5",
      paramLabel = "MINUTES",
      description = "1 to 60 (default: ${DEFAULT-VALUE})")
  private int minutes;

  @Option(names = "--what-if", description = "what changes of craft and day do")
  private boolean whatIf;

  @Option(
      names = "--season",
      description = "the longest window without WARNING of each day of the year of --date")
  private boolean season;

  @Option(names = "--csv", paramLabel = "FILE", description = "write a line for each step or day")
  private OutputFile csv;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description =
          "write the day, what changes do and, with --season, the year as one page to look at, .html")
  private OutputFile report;

  @Option(names = "--ascii", description = "draw the chart of the day in plain ASCII")
  private boolean ascii;

  /** A command with no options yet; picocli fills them in. */
  public OutlookCommand() {}

  @Override
  public Integer call() throws IOException {
    CraftProfile profile = craft.read();
    Lines out = new Lines(spec.commandLine().getOut());
    try {
      if (minutes < 1 || minutes > HOUR_MINUTES) {
        throw new IllegalArgumentException("--step must be in [1, 60] minutes: " + minutes);
      }
      DayQuestion asked =
          new DayQuestion(
              profile,
              site.place(),
              site.weather(profile),
              site.attitude(),
              site.date(),
              site.zone(),
              Duration.ofMinutes(minutes));
      Optional<Season> year = Optional.empty();
      if (season) {
        year = Optional.of(season(asked, out));
      } else {
        day(asked, out);
      }
      page(asked, year);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void day(DayQuestion asked, Lines out) throws IOException {
    CraftProfile profile = asked.profile();
    List<Moment> moments = asked.moments();
    out.line("%s on %s, %s", profile.name(), asked.date(), asked.zone());
    out.rule();
    OutlookText text = new OutlookText(out);
    text.day(moments, profile.rules(), asked.step(), ascii);
    text.printWindows(moments, profile.rules(), asked.step());
    text.best(moments, asked.outlook());
    if (whatIf) {
      List<String> lines = profileLines();
      text.whatIf(asked, new WhatIf(asked, lines).changes());
      text.sensitivity(Sensitivity.of(asked, lines));
    }
    text.printRestsOn(asked);
    if (csv != null) {
      AtomicFile.write(csv.path(), file -> write(moments, file.writer()));
    }
  }

  private List<String> profileLines() throws IOException {
    return PropertiesFile.read(craft.file()).lines().toList();
  }

  private void page(DayQuestion asked, Optional<Season> year) throws IOException {
    if (report != null) {
      List<String> lines = profileLines();
      AtomicFile.write(
          report.path(), file -> new OutlookPage(asked, lines, year).write(file.writer()));
    }
  }

  private static void write(List<Moment> moments, Writer to) throws IOException {
    to.write(
        "time,suns,cell_c,available_w,available_low_w,hover_w,throttle_ceiling,available_high_w,air_c\n");
    for (Moment m : moments) {
      to.write(
          String.format(
              Locale.ROOT,
              "%s,%.4f,%.2f,%.3f,%.3f,%.3f,%.4f,%.3f,%.2f\n",
              m.time().toOffsetDateTime(),
              m.suns(),
              m.cellCelsius(),
              m.availableWatts(),
              m.lowWatts(),
              m.demandWatts(),
              m.ceiling(),
              m.highWatts(),
              m.airCelsius()));
    }
  }

  private Season season(DayQuestion asked, Lines out) throws IOException {
    Season year =
        Season.of(
            asked.outlook(),
            asked.date().getYear(),
            asked.zone(),
            asked.profile().rules().warning().marginPercent(),
            SEASON_STEP);
    out.line(
        "%s, longest window without WARNING on clear days of %d",
        asked.profile().name(), asked.date().getYear());
    out.rule();
    year.print(out);
    new OutlookText(out).printRestsOn(asked);
    if (csv != null) {
      AtomicFile.write(csv.path(), file -> year.write(file.writer()));
    }
    return year;
  }
}
