package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** A search over some seconds of flight; {@code TimingSearchTest} has those of fifty. */
class TimingSearchStepsTest {

  /** Twelve seconds at 50 Hz, of which nine count. */
  private int rows = 600;

  /** Seven seconds, for what does not depend on how well the model is found. */
  private static final int FEW_ROWS = 350;

  private TimingSearch recorded(LoggedFlight flight) {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), rows, 0);
    for (int i = 0; i < rows; i++) {
      assertFalse(search.full());
      flight.next();
      search.record(flight.nanos(), flight.flight().throttle, flight.busVolts, flight.busAmps);
    }
    assertTrue(search.full());
    assertEquals(rows, search.rows());
    assertEquals(0.02, search.intervalSeconds(), 1.1e-5);
    return search;
  }

  private TimingSearch searched(LoggedFlight flight) {
    TimingSearch search = recorded(flight);
    search.start();
    assertFalse(search.done());
    int slices = 0;
    while (!search.work(1000) && slices < 2000) {
      slices++;
    }
    assertTrue(search.done());
    return search;
  }

  private static TestFlight flight(long seed) {
    return new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
  }

  @Test
  void aFilterOfBothIsFoundAndTakenAFifthShorter() {
    TimingSearch search = searched(new LoggedFlight(flight(3), 0.2, 0.2, 0, 0, 1, 0.01));
    TimeModel found = search.likeliest();
    double seconds = found.volts().filterSeconds();
    assertEquals(0.2, seconds, 0.08);
    assertEquals(0.2, found.amps().filterSeconds(), 0.08);
    assertEquals(TimeModel.Source.FOUND, found.source());
    assertEquals(0.01, search.voltsStep(), 1e-5);
    assertEquals(0.01, search.ampsStep(), 1e-6);
    assertTrue(search.throttleGain() > 0);
    assertTrue(search.model().throttleUsed());
    assertEquals(0.8 * seconds, search.model().volts().filterSeconds(), 1e-9);
    search.clear();
    assertEquals(0, search.rows());
    assertFalse(search.done());
    assertSame(TimeModel.UNKNOWN, search.model());
    assertSame(TimeModel.UNKNOWN, search.likeliest());
    search.start();
    assertTrue(search.done(), "nothing to search");
    assertTrue(search.work(10));
  }

  @Test
  void aLateCurrentIsFound() {
    TimeModel found = searched(new LoggedFlight(flight(7), 0, 0, 3, 0, 1, 0)).likeliest();
    assertEquals(0.06, found.amps().delaySeconds(), 0.011);
    assertEquals(0, found.volts().delaySeconds());
    assertEquals(0, found.volts().filterSeconds(), 0.01);
    assertEquals(0, found.commandDelaySeconds(), 0.011);
  }

  @Test
  void readingsOfOneInstantAreToldAsSuch() {
    rows = FEW_ROWS;
    TimeModel found = searched(new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0)).model();
    assertEquals(TimeModel.SIMULTANEOUS.volts(), found.volts());
    assertEquals(TimeModel.SIMULTANEOUS.amps(), found.amps());
    assertEquals(0, found.commandDelaySeconds());
    assertEquals(0, found.commandLagSeconds());
    assertTrue(found.throttleUsed());
  }

  private double likelihood(LoggedFlight flight, TimeModel model) {
    TimingLikelihood likelihood = new TimingLikelihood(TestCraft.SETTINGS, model);
    for (int i = 0; i < rows; i++) {
      flight.next();
      likelihood.command(flight.nanos(), (float) flight.flight().throttle);
      likelihood.reading(flight.nanos(), (float) flight.busVolts, (float) flight.busAmps);
    }
    return likelihood.meanLogLikelihood();
  }

  private static TimeModel without(TimeModel model) {
    return new TimeModel(
        ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, false, model.source());
  }

  /**
   * The gain is that of the mean log-likelihood over a model without throttle, filter and delay,
   * less 0.03 x r r / (0.5 + r r) for a current that is r times 0.015 s late.
   */
  @ParameterizedTest
  @ValueSource(ints = {0, 3})
  void theGainIsThatOfTheLikelihood(int late) {
    rows = FEW_ROWS;
    TimingSearch search = searched(new LoggedFlight(flight(7), 0, 0, late, 0, 1, 0));
    TimeModel found = search.likeliest();
    double used = likelihood(new LoggedFlight(flight(7), 0, 0, late, 0, 1, 0), found);
    double left = likelihood(new LoggedFlight(flight(7), 0, 0, late, 0, 1, 0), without(found));
    double size = found.amps().delaySeconds() / 0.015;
    double penalty = 0.03 * size * size / (0.5 + size * size);
    assertEquals(late > 0, size > 0);
    assertEquals(used - left - penalty, search.throttleGain(), 1e-12);
  }

  /** One filter of 0.3 s and more is the likeliest of single ones. */
  @Test
  void twoFiltersInSeriesAreToldFromALongOne() {
    LoggedFlight flight = new LoggedFlight(flight(3), 0.1, 0.1, 0, 0, 1, 0.01);
    TimeModel found = searched(flight.filteredAgain(0.1)).likeliest();
    assertTrue(found.commandLagSeconds() > 0, "the first filter is a lag of the command");
    double both = found.volts().filterSeconds() + found.commandLagSeconds();
    assertEquals(0.2, both, 0.06);
    assertEquals(found.volts().filterSeconds(), found.amps().filterSeconds());
  }

  /** A throttle column that has nothing to do with the motors. */
  private TimingSearch unrelated() {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), rows, 0);
    LoggedFlight flight = new LoggedFlight(flight(10), 0, 0, 0, 0, 1, 0);
    Random random = new Random(5);
    double variation = 0;
    for (int i = 0; i < rows; i++) {
      flight.next();
      variation = 0.9 * variation + 0.02 * random.nextGaussian();
      search.record(flight.nanos(), 0.5 + variation, flight.busVolts, flight.busAmps);
    }
    search.start();
    return search;
  }

  @Test
  void aThrottleThatTheMotorsDoNotFollowIsLeftOut() {
    rows = FEW_ROWS;
    TimingSearch search = unrelated();
    while (!search.work(1000)) {
      assertSame(TimeModel.UNKNOWN, search.model());
    }
    assertFalse(search.model().throttleUsed());
    assertTrue(search.likeliest().throttleUsed());
    assertTrue(search.throttleGain() < 0);
  }

  /** All 50 candidates of the scan, the one without throttle, and three passes at least. */
  @Test
  void aSliceHasTheNumberOfRowsThatWereAskedFor() {
    rows = FEW_ROWS;
    TimingSearch search = recorded(new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0));
    search.start();
    assertFalse(search.work(0));
    int work = 1;
    while (!search.work(1)) {
      work++;
    }
    assertEquals(0, work % rows, "each candidate takes all rows");
    assertTrue(work / rows > 51 + 3 * 7);
    TimeModel found = search.model();
    double gain = search.throttleGain();
    search.start();
    int slices = 1;
    while (!search.work(7)) {
      slices++;
    }
    assertEquals((work + 6) / 7, slices, "the same again");
    assertEquals(found, search.model());
    assertEquals(gain, search.throttleGain());
  }

  /** Three passes of at most 14 moves; each improvement is followed by another pass. */
  @Test
  void theDescentGoesOnWhileItHelps() {
    TimingSearch search = recorded(new LoggedFlight(flight(3), 0.2, 0.2, 0, 0, 1, 0.01));
    search.start();
    int candidates = 1;
    while (!search.work(rows)) {
      candidates++;
    }
    assertTrue(candidates > 51 + 3 * 14, "candidates " + candidates);
  }

  /** Ten rows a second: eight intervals exceed the longest delay, and no filter can be told. */
  @Test
  void slowRowsHaveAFilterOfAQuarterOfTheirInterval() {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), 150, 0);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 10, 3);
    LoggedFlight log = new LoggedFlight(flight, 0.3, 0.3, 0, 0, 1, 0);
    while (!search.full()) {
      log.next();
      search.record(log.nanos(), flight.throttle, log.busVolts, log.busAmps);
    }
    search.start();
    while (!search.work(1000)) {
      assertFalse(search.done());
    }
    assertTrue(search.likeliest().volts().filterSeconds() > 0.1);
    assertEquals(0.025, search.model().volts().filterSeconds(), 1e-3);
  }

  /** Of three seconds nothing counts, whatever an earlier search has found. */
  @Test
  void aFlightOfThreeSecondsFindsNothing() {
    rows = FEW_ROWS;
    TimingSearch search = searched(new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0));
    assertTrue(search.model().known());
    search.clear();
    LoggedFlight flight = new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0);
    for (int i = 0; i < 150; i++) {
      flight.next();
      search.record(flight.nanos(), flight.flight().throttle, flight.busVolts, flight.busAmps);
    }
    search.start();
    while (!search.work(1000)) {
      assertFalse(search.done());
    }
    assertSame(TimeModel.UNKNOWN, search.model());
    assertSame(TimeModel.UNKNOWN, search.likeliest());
  }

  /** Rows closer than the spacing are left out: 20 ms apart, every second one is kept. */
  @Test
  void rowsHaveTheSpacing() {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), 20, 0.03);
    for (int i = 0; i < 20; i++) {
      search.record(i * 20_000_000L, 0.5, 29, 3);
    }
    assertEquals(10, search.rows());
    assertEquals(0.04, search.intervalSeconds(), 1.1e-5);
  }
}
