package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.FlightPlan.Leg;

/** What is wrong with a scenario is said with its line, the rule and the value. */
class ScenarioFaultsTest {

  private static CraftProfile craft;

  @BeforeAll
  static void readTheCraft() throws Exception {
    craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
  }

  private static Scenario read(String text) {
    return Scenario.of(new StrictProperties("s", text), craft);
  }

  private static List<String> faults(String text) {
    return assertThrows(PropertiesException.class, () -> read(text)).faults();
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "plan =", "scenario.title = a day out"})
  void aFlightNeedsAPlan(String text) {
    assertEquals(
        List.of(
            "s: plan is missing: give legs of HEIGHT_M:SECONDS, for example plan = 0:5, 10:60,"
                + " 0:15"),
        faults(text));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "10",
        "10:60:5",
        "10:0",
        "10:-1",
        "-1:60",
        "1001:60",
        "10:86401",
        "ten:60",
        "nan:5"
      })
  void aLegIsAHeightAndATime(String leg) {
    assertEquals(
        List.of(
            "s line 1: plan legs are HEIGHT_M:SECONDS, 0 to 1000 m, up to a day; not '"
                + leg
                + "': 0:5, "
                + leg),
        faults("plan = 0:5, " + leg));
  }

  @Test
  void legsAtTheEndsOfTheirRangesAreFlown() {
    assertEquals(
        List.of(new Leg(0, 5), new Leg(1000, 86_400)), read("plan = 0:5,1000:86400").plan().legs());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "limiter = yes;limiter must be on or off: yes",
        "sky.kind = fog;sky.kind must be constant, ramps, cloud, broken, day or recording: fog",
        "sky.start = noon;sky.start must be like 2026-06-21T12:00:00+02:00: noon",
        "array.odd_cells = 1.5;array.odd_cells must be a whole number: 1.5",
      })
  void wordsAndDatesAreThoseOfTheRule(String line, String rule) {
    assertEquals(List.of("s line 2: " + rule), faults("plan = 10:60\n" + line));
  }

  @Test
  void aRecordingNeedsItsFile() {
    assertEquals(
        List.of("s: sky.file is missing: a recording needs a CSV with time_s, irradiance_w_m2"),
        faults("plan = 10:60\nsky.kind = recording"));
  }

  @Test
  void aRampIsFlownOnATether() {
    assertEquals(
        List.of(
            "s line 1: plan must stay at height 0 with ramp.top: a ramp is flown on a tether: 0:5,"
                + " 2:60"),
        faults("plan = 0:5, 2:60\nramp.top = 0.8"));
    assertEquals(0.8, read("plan = 0:60\nramp.top = 0.8").plan().ramp().top());
  }

  /** Light would stand still, and a fade would never come. */
  @Test
  void rampsOfLightDoNotEndAboveWhereTheyStart() {
    assertEquals(
        List.of(
            "s: ramps need sky.low_suns (0.5 if not given) no higher than sky.suns (0.95): 0.5 and"
                + " 0.4"),
        faults("plan = 10:60\nsky.kind = ramps\nsky.suns = 0.4"));
    assertEquals(0.4, read("plan = 10:60\nsky.suns = 0.4").sky().suns(), "a constant light may");
  }
}
