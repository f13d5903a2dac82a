package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.ZonedDateTime;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import net.e175.klaus.solarpositioning.SPA;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.init.HoverGuess;
import org.solarmargin.core.profile.CraftProfile;

/** Laws that an outlook must obey, independent of its models. */
class OutlookLawsProperties {

  private static final Weather MILD = new Weather(20, 20, 0, 0);
  private static final Attitude LEVEL = new Attitude(0, Double.NaN);
  private static final Duration STEP = Duration.ofMinutes(10);
  private static final CraftProfile STILT = stilt();

  private static CraftProfile stilt() {
    try {
      return CraftProfile.read(Cli.STILT);
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private static List<Moment> day(Place place, Weather weather, Attitude attitude, int dayOfYear) {
    return new DayOutlook(STILT, place, weather, attitude)
        .day(LocalDate.ofYearDay(2026, dayOfYear), ZoneOffset.UTC, STEP);
  }

  private static double best(List<Moment> moments) {
    return moments.stream().mapToDouble(Moment::marginPercent).max().orElse(-100);
  }

  @Property(tries = 40)
  void marginNeverRisesWithHazeOrHeat(
      @ForAll @DoubleRange(min = -60, max = 60) double latitude,
      @ForAll @IntRange(min = 1, max = 365) int day,
      @ForAll @DoubleRange(min = 0, max = 0.5) double haze,
      @ForAll @DoubleRange(min = 0, max = 20) double hotter) {
    Place place = new Place(latitude, 10, 0);
    double clear = best(day(place, MILD, LEVEL, day));
    assertTrue(best(day(place, new Weather(20, 20, 0, haze), LEVEL, day)) <= clear + 1e-9);
    Weather hot = new Weather(20 + hotter, 20 + hotter, 0, 0);
    assertTrue(best(day(place, hot, LEVEL, day)) <= clear + 1e-9);
  }

  @Property(tries = 30)
  void marginNeverRisesWithMassNorPowerFallsWithACellMore(
      @ForAll @DoubleRange(min = -60, max = 60) double latitude,
      @ForAll @IntRange(min = 1, max = 365) int day,
      @ForAll @DoubleRange(min = 0, max = 15) double wind,
      @ForAll @DoubleRange(min = 0, max = 0.5) double kilograms,
      @ForAll @IntRange(min = 1, max = 10) int cells)
      throws IOException {
    DayQuestion asked =
        new DayQuestion(
            STILT,
            new Place(latitude, 10, 0),
            new Weather(20, 20, wind, 0),
            LEVEL,
            LocalDate.ofYearDay(2026, day),
            ZoneOffset.UTC,
            Duration.ofMinutes(30));
    WhatIf changes = new WhatIf(asked, Files.readAllLines(Cli.STILT));
    List<Moment> now = asked.moments();
    List<Moment> heavier = asked.with(changes.craft(48, 1, kilograms, 1, 0)).moments();
    List<Moment> longer = asked.with(changes.craft(48 + cells, 1, 0, 1, 0)).moments();
    for (int i = 0; i < now.size(); i++) {
      assertTrue(heavier.get(i).marginPercent() <= now.get(i).marginPercent() + 1e-9);
      assertTrue(longer.get(i).availableWatts() >= now.get(i).availableWatts() - 1e-9);
    }
  }

  @Property(tries = 20)
  void aZoneChangesOnlyTheNamesOfInstants(
      @ForAll @DoubleRange(min = -60, max = 60) double latitude,
      @ForAll @IntRange(min = 2, max = 364) int day,
      @ForAll @IntRange(min = -12, max = 14) int hours) {
    Place place = new Place(latitude, 0, 0);
    DayOutlook outlook = new DayOutlook(STILT, place, MILD, LEVEL);
    LocalDate date = LocalDate.ofYearDay(2026, day);
    ZoneOffset zone = ZoneOffset.ofHours(hours);
    Map<Instant, Double> near = new HashMap<>();
    for (int d = -1; d <= 1; d++) {
      outlook
          .day(date.plusDays(d), ZoneOffset.UTC, STEP)
          .forEach(m -> near.put(m.time().toInstant(), m.suns()));
    }
    List<Moment> there = outlook.day(date, zone, STEP);
    assertFalse(there.isEmpty());
    for (Moment m : there) {
      assertEquals(date, m.time().toLocalDate());
      // the sun is computed with each day's own difference of time scales: 0.001 s at most
      assertEquals(near.get(m.time().toInstant()), m.suns(), 1e-6);
    }
  }

  /** Polar days, so that every hour counts. */
  @Example
  void theDaysOnWhichClocksChangeHave23And25Hours() {
    ZoneId berlin = ZoneId.of("Europe/Berlin");
    assertEquals(23, hoursOf(new Place(89.9, 10, 0), LocalDate.of(2026, 3, 29), berlin));
    assertEquals(24, hoursOf(new Place(89.9, 10, 0), LocalDate.of(2026, 3, 30), berlin));
    assertEquals(25, hoursOf(new Place(-89.9, 10, 0), LocalDate.of(2026, 10, 25), berlin));
  }

  private static int hoursOf(Place pole, LocalDate date, ZoneId zone) {
    return new DayOutlook(STILT, pole, MILD, LEVEL).day(date, zone, Duration.ofHours(1)).size();
  }

  @Property(tries = 20)
  void aDayIsSymmetricAboutSolarNoonWhereTheArrayFollowsTheSun(
      @ForAll @DoubleRange(min = -50, max = 50) double latitude,
      @ForAll @DoubleRange(min = 0, max = 60) double tilt,
      @ForAll @IntRange(min = 1, max = 365) int day) {
    LocalDate date = LocalDate.ofYearDay(2026, day);
    List<Moment> moments =
        new DayOutlook(STILT, new Place(latitude, 0, 0), MILD, new Attitude(tilt, Double.NaN))
            .day(date, ZoneOffset.UTC, Duration.ofMinutes(1));
    ZonedDateTime noon =
        SPA.calculateSunriseTransitSet(date.atTime(12, 0).atZone(ZoneOffset.UTC), latitude, 0, 69)
            .transit();
    int top = (int) Duration.between(moments.get(0).time(), noon).toMinutes();
    // noon is given in whole minutes, and the sun's declination changes by up to 0.4
    // degrees a day, which shifts the time of an elevation by some minutes
    int drift = 8;
    for (int i = drift; top - i - drift >= 0 && top + i < moments.size(); i += 30) {
      double least = Double.POSITIVE_INFINITY;
      double most = 0;
      for (int k = -drift; k <= drift; k++) {
        double mirrored = moments.get(top - i + k).suns();
        least = Math.min(least, mirrored);
        most = Math.max(most, mirrored);
      }
      double after = moments.get(top + i).suns();
      assertTrue(
          after >= least - 1e-4 && after <= most + 1e-4, i + " min after: " + after + ", " + least);
    }
  }

  @Example
  void nightAndDayAtThePoles() {
    assertTrue(day(new Place(89, 0, 0), MILD, LEVEL, 355).isEmpty(), "polar night");
    assertEquals(144, day(new Place(89, 0, 0), MILD, LEVEL, 172).size(), "the sun does not set");
    assertTrue(day(new Place(-89, 0, 0), MILD, LEVEL, 172).isEmpty());
  }

  @Example
  void theSouthHasItsSummerInDecember() {
    assertTrue(
        best(day(new Place(-45, 170, 0), MILD, LEVEL, 355))
            > best(day(new Place(-45, 170, 0), MILD, LEVEL, 172)) + 50);
  }

  @Example
  void aLeapDayAndTheDateLine() {
    DayOutlook fiji = new DayOutlook(STILT, new Place(-17, 179.9, 0), MILD, LEVEL);
    List<Moment> day = fiji.day(LocalDate.of(2028, 2, 29), ZoneId.of("Pacific/Fiji"), STEP);
    Moment top = day.stream().max(Comparator.comparingDouble(Moment::suns)).orElseThrow();
    assertEquals(12, top.time().getHour() + top.time().getMinute() / 60.0, 0.5);
    DayOutlook other = new DayOutlook(STILT, new Place(-17, -179.9, 0), MILD, LEVEL);
    double there = best(other.day(LocalDate.of(2028, 2, 29), ZoneId.of("Pacific/Fiji"), STEP));
    assertEquals(best(day), there, 0.5);
  }

  /**
   * NREL's SPA page, quoted from pvlib's tests: Golden CO, MST, 2015-08-02, 05:00:27 to 19:13:58.
   */
  @Example
  void sunriseAndSunsetAgreeWithNrel() {
    DayOutlook golden = new DayOutlook(STILT, new Place(39.742, -105.179, 0), MILD, LEVEL);
    List<Moment> day =
        golden.day(LocalDate.of(2015, 8, 2), ZoneId.of("-07:00"), Duration.ofMinutes(1));
    double first = day.get(0).time().toLocalTime().toSecondOfDay() / 60.0;
    double last = day.get(day.size() - 1).time().toLocalTime().toSecondOfDay() / 60.0;
    // light counts from 10 W/m2 upwards, which a clear sky gives at 2 to 3 degrees of sun
    assertEquals(5 * 60 + 17, first, 8);
    assertEquals(18 * 60 + 57, last, 8);
  }

  /** Momentum theory: vh = sqrt(T / 2 rho A); at Vx = vh induced speed is 0.786 vh (Glauert). */
  @Example
  void windReducesHoverPowerByMomentumTheory() {
    HoverDemand hover = new HoverDemand(STILT);
    double vh = Math.sqrt(1.6 * 9.80665 / (2 * 1.225 * Math.PI * 0.5588 * 0.5588));
    assertEquals(Math.sqrt((Math.sqrt(5) - 1) / 2), hover.windFactor(1.225, vh), 1e-6);
    assertEquals(83, hover.watts(1.225, 0), 1e-9);
    assertEquals(3.5 + 79.5 * Math.sqrt(1.225 / 1.0), hover.watts(1.0, 0), 1e-9);
    assertEquals(0.5, hover.throttle(83, 29, 1.225), 1e-6);
  }

  /**
   * Prouty's example helicopter (Helicopter Performance, Stability and Control): 20,000 lb on a
   * rotor of 30 ft radius ideally take 1402.7 hp, and more by a figure of merit of 0.7 and a drive
   * efficiency of 0.9.
   */
  @Example
  void sizingHoversByMomentumTheory() {
    double pounds = 0.45359237;
    double watts = HoverGuess.motorWatts(20_000 * pounds, 1, 60 * 0.3048, 1, 1);
    assertEquals(1402.7 * 745.7, watts, 0.001 * watts);
    assertEquals(
        watts / 0.63,
        HoverGuess.motorWatts(20_000 * pounds, 1, 60 * 0.3048, 0.7, 0.9),
        1e-6 * watts);
  }

  @Example
  void theWindowIsTheLongestPeriod() {
    List<Moment> day = day(new Place(50, 10, 0), MILD, LEVEL, 172);
    Window window = Window.longest(day, 0, STEP).orElseThrow();
    for (Moment moment : day) {
      boolean inside =
          !moment.time().isBefore(window.from()) && !moment.time().isAfter(window.to());
      assertEquals(inside, moment.lowPercent() >= 0, moment.toString());
    }
    assertFalse(Window.longest(day, 1000, STEP).isPresent());
  }
}
