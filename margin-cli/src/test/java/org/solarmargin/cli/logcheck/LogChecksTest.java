package org.solarmargin.cli.logcheck;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.function.UnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Each check finds its fault in every demo flight that has it, and reports nothing in the others.
 */
class LogChecksTest {

  private static final String EXCHANGED = "bus_v and bus_a look interchanged";
  private static final String DEAD = "bus_a hardly changes while the throttle does";
  private static final String BATTERY = "bus_v hardly changes with bus_a";
  private static final String HOVER = "hover takes about";
  private static final String SLOW = "most lines are over 0.6 s apart";

  static List<Path> flights() throws IOException {
    return FlightLog.demos();
  }

  private static EstimatorSettings stilt() throws IOException {
    return CraftProfile.read(Cli.STILT).settings();
  }

  private static List<Finding> findings(
      EstimatorSettings settings, Path log, int every, UnaryOperator<Sample> change)
      throws IOException {
    LogChecks checks = new LogChecks(settings);
    List<Sample> samples = FlightLog.samples(log);
    for (int i = 0; i < samples.size(); i += every) {
      Sample s = change.apply(samples.get(i));
      checks.take(s.seconds(), s.volts(), s.amps(), s.throttle(), true);
    }
    return checks.findings();
  }

  private static void assertFinds(
      String words, boolean invalidates, Path log, UnaryOperator<Sample> change)
      throws IOException {
    List<Finding> found = findings(stilt(), log, 1, change);
    assertEquals(1, found.size(), found.toString());
    assertTrue(found.get(0).line().startsWith(words), found.toString());
    assertEquals(invalidates, found.get(0).invalidatesEstimates(), found.toString());
    assertTrue(found.get(0).line().length() <= 69, "fits one line after its label");
  }

  @ParameterizedTest
  @MethodSource("flights")
  void aGoodLogShowsNothing(Path log) throws IOException {
    assertEquals(List.of(), findings(stilt(), log, 1, s -> s));
  }

  @ParameterizedTest
  @MethodSource("flights")
  void aGoodLogOfTwoLinesASecondRoundedToTenthsShowsNothing(Path log) throws IOException {
    assertEquals(
        List.of(),
        findings(
            stilt(),
            log,
            25,
            s ->
                new Sample(
                    s.seconds(),
                    Math.rint(10 * s.volts()) / 10,
                    Math.rint(10 * s.amps()) / 10,
                    Math.rint(100 * s.throttle()) / 100)));
  }

  @ParameterizedTest
  @MethodSource("flights")
  void readingsFilteredByASecondShowNoInvalidatingFault(Path log) throws IOException {
    assertNothingInvalidated(log, 1, 1);
    assertNothingInvalidated(log, 1, 0.04);
    assertNothingInvalidated(log, 0.04, 1);
  }

  private static void assertNothingInvalidated(Path log, double voltsLag, double ampsLag)
      throws IOException {
    Sample first = FlightLog.samples(log).get(0);
    double[] slow = {first.seconds(), first.volts(), first.amps()};
    List<Finding> found =
        findings(
            stilt(),
            log,
            1,
            s -> {
              double step = s.seconds() - slow[0];
              slow[0] = s.seconds();
              slow[1] += step / (voltsLag + step) * (s.volts() - slow[1]);
              slow[2] += step / (ampsLag + step) * (s.amps() - slow[2]);
              return new Sample(s.seconds(), slow[1], slow[2], s.throttle());
            });
    assertTrue(found.stream().noneMatch(Finding::invalidatesEstimates), found.toString());
  }

  @ParameterizedTest
  @MethodSource("flights")
  void interchangedColumnsAreFound(Path log) throws IOException {
    assertFinds(EXCHANGED, true, log, Sample::interchanged);
  }

  @Test
  void interchangedColumnsAreFoundByTheirSignsWhereVoltsAndAmperesAreAlikeInSize()
      throws IOException {
    Path gusts = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");
    EstimatorSettings alike = alike();
    List<Finding> sound =
        findings(
            alike,
            gusts,
            1,
            s -> new Sample(s.seconds(), s.volts() / 3, 3 * s.amps(), s.throttle()));
    assertTrue(sound.stream().noneMatch(f -> f.line().startsWith(EXCHANGED)), sound::toString);
    List<Finding> found =
        findings(
            alike,
            gusts,
            1,
            s -> new Sample(s.seconds(), s.volts() / 3, 3 * s.amps(), s.throttle()).interchanged());
    assertTrue(found.get(0).line().startsWith(EXCHANGED), found.toString());
  }

  /** A third of Stilt's cells in series, three strings side by side: a hover of 9.7 V and 8.1 A. */
  private static EstimatorSettings alike() throws IOException {
    EstimatorSettings s = stilt();
    Rotor r = s.rotor();
    return new EstimatorSettings(
        s.cell(),
        s.cellSpread(),
        s.seriesCells() / 3,
        3 * s.parallelStrings(),
        s.thermal(),
        new Rotor(
            r.hoverThrottle(), r.hoverWatts(), r.hoverBusVolts() / 3, true, r.housekeepingWatts()),
        s.sensors(),
        s.timing());
  }

  @ParameterizedTest
  @MethodSource("flights")
  void aMissingCurrentSensorIsFoundWhetherItReadsNoiseNothingOrOneValue(Path log)
      throws IOException {
    Random noise = new Random(1);
    assertFinds(
        DEAD,
        true,
        log,
        s -> new Sample(s.seconds(), s.volts(), 0.1 + 0.05 * noise.nextGaussian(), s.throttle()));
    assertFinds(DEAD, true, log, s -> new Sample(s.seconds(), s.volts(), 0, s.throttle()));
    assertFinds(DEAD, true, log, s -> new Sample(s.seconds(), s.volts(), 2.7, s.throttle()));
  }

  @ParameterizedTest
  @MethodSource("flights")
  void aDischargingBatteryOnTheBusIsFound(Path log) throws IOException {
    Random noise = new Random(1);
    assertFinds(
        BATTERY,
        true,
        log,
        s ->
            new Sample(
                s.seconds(),
                30 - 0.03 * s.amps() - 0.003 * s.seconds() + 0.02 * noise.nextGaussian(),
                s.amps(),
                s.throttle()));
    assertFinds(BATTERY, true, log, s -> new Sample(s.seconds(), 29, s.amps(), s.throttle()));
  }

  @Test
  void aHoverFarFromTheProfilesPowerIsFoundButInvalidatesNothing() throws IOException {
    Path cloud = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
    assertFinds(
        HOVER, false, cloud, s -> new Sample(s.seconds(), s.volts(), 1.5 * s.amps(), s.throttle()));
    assertFinds(
        HOVER,
        false,
        cloud,
        s -> new Sample(s.seconds(), s.volts(), 0.65 * s.amps(), s.throttle()));
  }

  @Test
  void anAssumedHoverPowerIsNotCompared() throws IOException {
    EstimatorSettings s = stilt();
    Rotor r = s.rotor();
    Rotor guess =
        new Rotor(
            r.hoverThrottle(), r.hoverWatts(), r.hoverBusVolts(), false, r.housekeepingWatts());
    EstimatorSettings guessed =
        new EstimatorSettings(
            s.cell(),
            s.cellSpread(),
            s.seriesCells(),
            s.parallelStrings(),
            s.thermal(),
            guess,
            s.sensors(),
            s.timing());
    assertEquals(
        List.of(),
        findings(
            guessed,
            Cli.EXAMPLES.resolve("flights/cloud-passage.csv"),
            1,
            x -> new Sample(x.seconds(), x.volts(), 1.5 * x.amps(), x.throttle())));
  }

  @ParameterizedTest
  @MethodSource("flights")
  void aLogSlowerThanTwoLinesASecondIsFound(Path log) throws IOException {
    List<Finding> found = findings(stilt(), log, 35, s -> s);
    assertEquals(1, found.size(), found.toString());
    assertTrue(found.get(0).line().startsWith(SLOW), found.toString());
    assertTrue(found.get(0).line().contains("mean 0.700 s"), found.toString());
    assertEquals(List.of(), findings(stilt(), log, 30, s -> s), "0.6 s is not above 0.6 s");
  }
}
