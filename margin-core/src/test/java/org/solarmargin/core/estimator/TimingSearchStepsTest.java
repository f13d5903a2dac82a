package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.TimeModel;

/** A search over twelve seconds of flight; {@code TimingSearchTest} has those of fifty. */
class TimingSearchStepsTest {

  private static final int ROWS = 600;

  private static TimingSearch recorded(LoggedFlight flight) {
    TimingSearch search =
        new TimingSearch(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), ROWS, 0);
    for (int i = 0; i < ROWS; i++) {
      assertFalse(search.full());
      flight.next();
      search.record(flight.nanos(), flight.flight().throttle, flight.busVolts, flight.busAmps);
    }
    assertTrue(search.full());
    assertEquals(ROWS, search.rows());
    assertEquals(0.02, search.intervalSeconds(), 1.1e-5);
    return search;
  }

  private static TimingSearch searched(LoggedFlight flight) {
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
    TimeModel found = searched(new LoggedFlight(flight(9), 0, 0, 0, 0, 1, 0)).model();
    assertEquals(TimeModel.SIMULTANEOUS.volts(), found.volts());
    assertEquals(TimeModel.SIMULTANEOUS.amps(), found.amps());
    assertEquals(0, found.commandDelaySeconds());
    assertEquals(0, found.commandLagSeconds());
    assertTrue(found.throttleUsed());
  }
}
