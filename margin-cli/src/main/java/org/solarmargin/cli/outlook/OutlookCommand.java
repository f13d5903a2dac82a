package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.LogStart;
import org.solarmargin.cli.option.ColumnOption;
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
      "Forecasts whether the craft can hover at a place on a clear day, with what reserve, and at"
          + " what times.",
      "",
      "A clear sky is the upper limit: clouds and haze only reduce the light. Advisory only, not"
          + " certified."
    },
    footerHeading = "%nExamples:%n",
    footer = {
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-06-21 \\",
      "      --zone Europe/Berlin --air-c 12,19 --wind 3",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-06-21 \\",
      "      --what-if",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-06-21 \\",
      "      --sheet field.html",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --date 2026-01-01 \\",
      "      --season --report year.html",
      "  margin outlook --craft stilt.properties --at 53.7,7.7 --air-c 15 \\",
      "      --log flight.csv --start 2026-06-21T12:00Z"
    })
public final class OutlookCommand implements Callable<Integer> {

  private static final int HOUR_MINUTES = 60;
  private static final Duration SEASON_STEP = Duration.ofMinutes(10);

  @Spec private CommandSpec spec;

  @Mixin private CraftOption craft;

  @Mixin private SiteOptions site;

  @Mixin private DateOption date;

  @Option(
      names = "--step",
      defaultValue = "5",
      paramLabel = "MINUTES",
      description = "interval of the table, 1 to 60 (default: ${DEFAULT-VALUE})")
  private int minutes;

  @Option(names = "--what-if", description = "show the effects of changes to craft and day")
  private boolean whatIf;

  @Option(
      names = "--season",
      description = "show the longest window without WARNING for each day of the year of --date")
  private boolean season;

  @Option(
      names = "--log",
      paramLabel = "LOG",
      description =
          "after the flight: compare its log with the forecast for its time, and report which"
              + " assumption was off")
  private Path log;

  @Option(
      names = "--start",
      paramLabel = "INSTANT",
      description =
          "time of the log's first row, like 2026-06-21T12:00Z (default: from its dates or epoch"
              + " times, or its comment # start:)")
  private String start;

  @Mixin private ColumnOption columns;

  @Option(names = "--csv", paramLabel = "FILE", description = "write a line for each step or day")
  private OutputFile csv;

  @Option(
      names = "--report",
      paramLabel = "FILE",
      description =
          "write the day, the effects of changes and, with --season, the year as one HTML page")
  private OutputFile report;

  @Option(
      names = "--sheet",
      paramLabel = "FILE",
      description =
          "write an A4 page to print for the field, with windows, ceiling, thresholds and"
              + " checklists, as HTML")
  private OutputFile sheet;

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
      if (log == null && start != null) {
        throw new IllegalArgumentException("--start needs --log: " + start);
      }
      answer(profile, out);
    } catch (IllegalArgumentException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
    out.flush();
    return CommandLine.ExitCode.OK;
  }

  private void answer(CraftProfile profile, Lines out) throws IOException {
    // wrong options are reported before a long log is read
    Optional<LocalDate> given = date.given();
    DayQuestion asked = question(profile, given.orElse(LocalDate.EPOCH));
    Optional<FlownOutlook> flown = Optional.empty();
    if (log != null) {
      FlownOutlook flight = flown(asked);
      LocalDate day = flight.from().toLocalDate();
      if (!given.orElse(day).equals(day)) {
        throw new IllegalArgumentException(
            "--date must be the day of the flight, "
                + day
                + " in "
                + site.zone()
                + ": "
                + given.get());
      }
      asked = question(profile, day);
      flown = Optional.of(flight);
    } else {
      date.required(spec);
    }
    DayAnswer answer =
        whatIf || report != null
            ? DayAnswer.withChanges(asked, PropertiesFile.read(craft.file()).lines().toList())
            : DayAnswer.of(asked);
    Optional<Season> year = Optional.empty();
    if (season) {
      year = Optional.of(season(asked, out));
    } else {
      day(answer, out);
    }
    OutlookText text = new OutlookText(out);
    if (whatIf) {
      text.whatIf(answer);
    }
    flown.ifPresent(text::flown);
    text.printBasis(asked);
    if (report != null) {
      OutlookPage page = new OutlookPage(answer, year, flown);
      AtomicFile.write(report.path(), file -> page.write(file.writer()));
    }
    if (sheet != null) {
      AtomicFile.write(sheet.path(), file -> new FieldSheet(answer).write(file.writer()));
    }
  }

  private DayQuestion question(CraftProfile profile, LocalDate day) {
    return site.question(profile, day, Duration.ofMinutes(minutes));
  }

  private FlownOutlook flown(DayQuestion asked) throws IOException {
    Optional<Instant> stated = Optional.empty();
    try {
      stated = Optional.ofNullable(start).map(LogStart::instant);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException(
          "--start must be like 2026-06-21T12:00Z or 2026-06-21T14:00+02:00: " + start, e);
    }
    try (Progress progress =
        new Progress(
            spec.commandLine().getErr(),
            Progress.terminal(),
            "reading",
            MeasuredFlight.size(log))) {
      MeasuredFlight flight =
          MeasuredFlight.read(asked, log, columns.read(spec, asked.profile()), progress);
      Instant first =
          stated
              .or(flight::start)
              .orElseThrow(
                  () ->
                      new IllegalArgumentException(
                          "the log does not state when it was flown: give --start"
                              + " 2026-06-21T12:00Z, or put # start: ... in its first line"));
      FlownOutlook flown = new FlownOutlook(asked, flight, first);
      if (!flown.sunUp()) {
        throw new InputFault(
            log
                + ": the sun must be up over "
                + site.place().latitude()
                + ","
                + site.place().longitude()
                + " during the flight: "
                + flown.when()
                + ": check --start, --at");
      }
      return flown;
    }
  }

  private void day(DayAnswer answer, Lines out) throws IOException {
    DayQuestion asked = answer.asked();
    CraftProfile profile = asked.profile();
    List<Moment> moments = answer.moments();
    out.line("%s on %s, %s", profile.name(), asked.date(), asked.zone());
    out.rule();
    OutlookText text = new OutlookText(out);
    text.day(moments, profile.rules(), asked.step(), ascii);
    text.printWindows(moments, profile.rules(), asked.step());
    text.best(moments, asked.outlook());
    if (csv != null) {
      AtomicFile.write(csv.path(), file -> write(moments, file.writer()));
    }
  }

  private static void write(List<Moment> moments, Writer to) throws IOException {
    to.write(
        "time,suns,cell_c,available_w,available_low_w,hover_w,throttle_ceiling,"
            + "available_high_w,air_c\n");
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
    if (csv != null) {
      AtomicFile.write(csv.path(), file -> year.write(file.writer()));
    }
    return year;
  }
}
