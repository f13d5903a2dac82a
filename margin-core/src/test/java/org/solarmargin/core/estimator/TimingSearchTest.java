package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.TimeModel;

/**
 * The search on minutes of varying throttle; the flight's motor model differs from the filter's.
 */
class TimingSearchTest {

  private static final int ROWS = 2500;
  private static final double FILTER_SHARE = 0.25;
  private static final double DELAY_SECONDS = 0.02;

  private static TimingSearch search(LoggedFlight flight, boolean throttleMatches) {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), ROWS, 0);
    Random random = new Random(5);
    double lastVolts = Double.NaN;
    double variation = 0;
    for (int i = 0; i < ROWS; i++) {
      flight.next();
      variation = 0.9 * variation + 0.02 * random.nextGaussian();
      boolean fresh = flight.busVolts != lastVolts;
      lastVolts = flight.busVolts;
      search.record(
          flight.nanos(),
          throttleMatches ? flight.flight().throttle : 0.5 + variation,
          fresh ? flight.busVolts : Double.NaN,
          fresh ? flight.busAmps : Double.NaN);
    }
    search.start();
    while (!search.work(1000)) {
      // each slice is bounded
    }
    return search;
  }

  private static TestFlight flight(long seed) {
    return new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
  }

  @ParameterizedTest
  @CsvSource({"0.05, 1", "0.08, 2", "0.2, 3", "0.3, 4", "0.5, 5"})
  void findsTheFilter(double seconds, long seed) {
    TimeModel found =
        search(new LoggedFlight(flight(seed), seconds, seconds, 0, 0, 1, 0.01), true).likeliest();
    assertEquals(seconds, found.volts().filterSeconds(), FILTER_SHARE * seconds);
    assertEquals(seconds, found.amps().filterSeconds(), FILTER_SHARE * seconds);
    assertTrue(found.throttleUsed());
  }

  /** One filter of 0.3 to 0.6 s would be more likely; throttle changes identify two. */
  @ParameterizedTest
  @CsvSource({"0.06, 11", "0.1, 12", "0.15, 13"})
  void distinguishesTwoFiltersInSeriesFromALongOne(double seconds, long seed) {
    LoggedFlight flight = new LoggedFlight(flight(seed), seconds, seconds, 0, 0, 1, 0.01);
    TimeModel found = search(flight.filteredAgain(seconds), true).likeliest();
    double both = found.volts().filterSeconds() + found.commandLagSeconds();
    assertEquals(2 * seconds, both, FILTER_SHARE * 2 * seconds);
    assertTrue(found.throttleUsed());
  }

  @Test
  void findsUnequalFilters() {
    TimeModel found =
        search(new LoggedFlight(flight(6), 0.05, 0.2, 0, 0, 1, 0.01), true).likeliest();
    assertEquals(0.05, found.volts().filterSeconds(), 0.02);
    assertEquals(0.2, found.amps().filterSeconds(), FILTER_SHARE * 0.2);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 3, 5})
  void findsTheDelayOfTheCurrent(int rows) {
    TimeModel found = search(new LoggedFlight(flight(7), 0, 0, rows, 0, 1, 0), true).likeliest();
    assertEquals(0.02 * rows, found.amps().delaySeconds(), 0.5 * DELAY_SECONDS);
    assertEquals(0, found.volts().delaySeconds());
    assertEquals(0, found.volts().filterSeconds(), 0.01);
  }

  @ParameterizedTest
  @ValueSource(ints = {0, 2, 4})
  void findsTheDelayOfTheCommand(int rows) {
    TimeModel found = search(new LoggedFlight(flight(8), 0, 0, 0, rows, 1, 0), true).likeliest();
    assertEquals(0.02 * rows, found.commandDelaySeconds(), DELAY_SECONDS);
  }

  @Test
  void readingsOfOneInstantAreRecognised() {
    TimeModel found = search(new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0), true).model();
    assertEquals(TimeModel.SIMULTANEOUS.volts(), found.volts());
    assertEquals(TimeModel.SIMULTANEOUS.amps(), found.amps());
    assertEquals(0, found.commandDelaySeconds());
    assertTrue(found.throttleUsed());
  }

  @Test
  void aThrottleThatTheMotorsDoNotFollowIsNotUsed() {
    TimeModel found = search(new LoggedFlight(flight(10), 0, 0, 0, 0, 1, 0), false).model();
    assertFalse(found.throttleUsed());
  }
}
