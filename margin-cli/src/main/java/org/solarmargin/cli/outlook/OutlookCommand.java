package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.CraftOption;
import org.solarmargin.cli.OutputFile;
import org.solarmargin.cli.text.Lines;
import org.solarmargin.cli.text.WholeFile;
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
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-01-01 --season"
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
      if (season) {
        season(profile, out);
      } else {
        day(profile, out);
      }
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void day(CraftProfile profile, Lines out) throws IOException {
    Duration step = Duration.ofMinutes(minutes);
    Weather weather = site.weather(profile);
    LocalDate date = site.date();
    ZoneId zone = site.zone();
    DayOutlook outlook = new DayOutlook(profile, site.place(), weather, site.attitude());
    List<Moment> moments = outlook.day(date, zone, step);
    out.line("%s on %s, %s", profile.name(), date, zone);
    out.rule();
    OutlookText text = new OutlookText(out);
    text.day(moments, step);
    text.windows(moments, profile.rules(), step);
    text.best(moments, outlook);
    if (whatIf) {
      out.blank();
      out.line("%-46s %10s   %s", "what if", "best", "without WARNING");
      text.change("as it is", moments, profile.rules(), step);
      List<String> lines = PropertiesFile.read(craft.file()).lines().toList();
      for (WhatIf.Change c : new WhatIf(profile, lines, weather, site.place()).changes()) {
        DayOutlook other = new DayOutlook(c.profile(), c.place(), c.weather(), site.attitude());
        text.change(c.words(), other.day(date, zone, step), profile.rules(), step);
      }
    }
    text.restsOn(outlook, weather);
    if (csv != null) {
      WholeFile.write(csv.path(), file -> write(moments, file.writer()));
    }
  }

  private static void write(List<Moment> moments, Writer to) throws IOException {
    to.write("time,suns,cell_c,available_w,available_low_w,hover_w,throttle_ceiling\n");
    for (Moment m : moments) {
      to.write(
          String.format(
              Locale.ROOT,
              "%s,%.4f,%.2f,%.3f,%.3f,%.3f,%.4f%n",
              m.time().toOffsetDateTime(),
              m.suns(),
              m.cellCelsius(),
              m.availableWatts(),
              m.lowWatts(),
              m.demandWatts(),
              m.ceiling()));
    }
  }

  private void season(CraftProfile profile, Lines out) throws IOException {
    Weather weather = site.weather(profile);
    DayOutlook outlook = new DayOutlook(profile, site.place(), weather, site.attitude());
    Season year =
        Season.of(
            outlook,
            site.date().getYear(),
            site.zone(),
            profile.rules().warning().marginPercent(),
            SEASON_STEP);
    out.line(
        "%s, longest window without WARNING on clear days of %d",
        profile.name(), site.date().getYear());
    out.rule();
    year.print(out);
    new OutlookText(out).restsOn(outlook, weather);
    if (csv != null) {
      WholeFile.write(csv.path(), file -> year.write(file.writer()));
    }
  }

  /** Whether a window lasts an hour. */
  static boolean anHour(Optional<Window> window) {
    return window.map(w -> w.length().toMinutes() >= HOUR_MINUTES).orElse(false);
  }
}
