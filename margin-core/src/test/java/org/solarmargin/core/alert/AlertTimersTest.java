package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The exact times at which a level is raised and cleared: one rule at a time, in steps of a quarter
 * of a second.
 */
class AlertTimersTest {

  private static final double STEP = 0.25;
  private static final double DEMAND = 100;
  private static final double NEVER = Double.POSITIVE_INFINITY;

  /** Only ADVISORY can be reached by a low margin: below 25 %, back above 35 %, 1 s and 2 s. */
  private static final AlertRules RULES =
      new AlertRules(
          new LevelRule(25, 8, 1, 2, 10),
          new LevelRule(-90, 0, 0, 0, 0),
          new LevelRule(-95, 0, 0, 0, 0),
          0.1);

  private final List<String> events = new ArrayList<>();
  private final AlertMonitor monitor =
      new AlertMonitor(
          RULES,
          (nanos, level, raised, reason, margin, toZero) ->
              events.add(
                  nanos / 250_000_000L
                      + " "
                      + level
                      + (raised ? " raised " : " cleared ")
                      + reason));
  private int step;

  private void margin(int steps, double percent) {
    reading(steps, percent, NEVER);
  }

  private void reading(int steps, double percent, double toZero) {
    for (int i = 0; i < steps; i++) {
      step++;
      double low = DEMAND * (1 + percent / 100);
      monitor.update(
          step * 250_000_000L,
          STEP,
          FlightPhase.TRUSTED,
          new PowerRow(2 * low, low, DEMAND, toZero));
    }
  }

  private void blind(int steps) {
    for (int i = 0; i < steps; i++) {
      step++;
      monitor.update(
          step * 250_000_000L, STEP, FlightPhase.BLIND, new PowerRow(300, 150, DEMAND, NEVER));
    }
  }

  private void ground() {
    step++;
    monitor.update(
        step * 250_000_000L, STEP, FlightPhase.GROUNDED, new PowerRow(300, 105, DEMAND, NEVER));
  }

  @Test
  void aConditionMustHoldForTheWholeOnDelay() {
    margin(3, 24);
    assertEquals(List.of(), events);
    margin(1, 24);
    assertEquals(List.of("4 ADVISORY raised LOW_MARGIN"), events);
  }

  @Test
  void anInterruptionRestartsTheOnDelay() {
    margin(3, 24);
    margin(1, 26);
    margin(3, 24);
    assertEquals(List.of(), events);
    margin(1, 24);
    assertEquals(List.of("8 ADVISORY raised LOW_MARGIN"), events);
  }

  /** Every second sample is refused; the condition is assumed to last in between. */
  @Test
  void scatteredRefusedSamplesDoNotDeferALevel() {
    margin(1, 24);
    blind(1);
    margin(1, 24);
    assertEquals(List.of(), events);
    margin(1, 24);
    assertEquals(List.of("4 ADVISORY raised LOW_MARGIN"), events);
  }

  @Test
  void aRefusedSampleStartsNoDelayAndRaisesNoLevel() {
    margin(3, 26);
    blind(1);
    margin(3, 24);
    blind(1);
    assertEquals(List.of(), events, "the delay has elapsed, but the last sample is refused");
    margin(1, 24);
    assertEquals(List.of("9 ADVISORY raised LOW_MARGIN"), events);
  }

  @Test
  void theThresholdItselfIsNotBelowIt() {
    margin(8, 25);
    assertEquals(List.of(), events);
  }

  @Test
  void itIsClearedAboveThresholdAndHysteresisForTheWholeOffDelay() {
    margin(4, 24);
    margin(20, 34.9);
    assertEquals(1, events.size(), "within the hysteresis it stays active");
    margin(7, 35.1);
    assertEquals(1, events.size());
    margin(1, 35.1);
    assertEquals("32 ADVISORY cleared RECOVERED", events.get(1));
    assertEquals(AlertLevel.NONE, monitor.level());
  }

  @Test
  void anInterruptionRestartsTheOffDelay() {
    margin(4, 24);
    margin(7, 40);
    margin(1, 30);
    margin(7, 40);
    assertEquals(1, events.size());
    margin(1, 40);
    assertEquals("20 ADVISORY cleared RECOVERED", events.get(1));
  }

  @Test
  void aClearedLevelNeedsItsWholeOffDelayAgain() {
    margin(4, 24);
    margin(8, 40);
    assertEquals(AlertLevel.NONE, monitor.level());
    margin(240, 40);
    margin(4, 24);
    assertEquals(AlertLevel.ADVISORY, monitor.level());
    margin(7, 40);
    assertEquals(AlertLevel.ADVISORY, monitor.level());
    margin(1, 40);
    assertEquals(AlertLevel.NONE, monitor.level());
  }

  @Test
  void fallingIsReleasedAtOneAndAHalfTimesItsTime() {
    reading(3, 60, 8);
    assertEquals(List.of(), events, "the time itself is not below it");
    reading(4, 60, 7.9);
    assertEquals(List.of("7 ADVISORY raised FALLING"), events);
    reading(20, 60, 11.9);
    assertEquals(1, events.size(), "8 s x 1.5 is 12 s");
    reading(8, 60, 12);
    assertEquals("35 ADVISORY cleared RECOVERED", events.get(1));
  }

  @Test
  void refusedSamplesForASecondRaiseACautionAndNoWarning() {
    margin(4, 60);
    blind(3);
    assertEquals(AlertLevel.NONE, monitor.level());
    blind(1);
    assertEquals(List.of("8 CAUTION raised NO_DATA"), events);
    blind(40);
    assertEquals(AlertLevel.CAUTION, monitor.level());
  }

  @Test
  void timeWithoutSamplesDoesNotAddUpAcrossGoodSamples() {
    margin(4, 60);
    blind(3);
    margin(1, 60);
    blind(3);
    assertEquals(List.of(), events);
    assertEquals(60, monitor.marginPercent(), 1e-9, "the last judgement is kept");
  }

  @Test
  void landingResetsTheOnDelay() {
    margin(3, 24);
    ground();
    margin(3, 24);
    assertEquals(List.of(), events);
    margin(1, 24);
    assertEquals(List.of("8 ADVISORY raised LOW_MARGIN"), events);
  }

  @Test
  void landingResetsTheTimeWithoutSamples() {
    margin(4, 60);
    blind(3);
    ground();
    blind(3);
    assertEquals(List.of(), events);
  }

  @Test
  void landingResetsThePeakDemand() {
    monitor.update(1, STEP, FlightPhase.TRUSTED, new PowerRow(600, 600, 300, NEVER));
    assertEquals(100, monitor.marginPercent(), 1e-9);
    ground();
    monitor.update(2, 0, FlightPhase.TRUSTED, new PowerRow(600, 150, DEMAND, NEVER));
    assertEquals(50, monitor.marginPercent(), 1e-9);
  }

  @Test
  void landingResetsTheRaisesOfTheLastMinute() {
    margin(4, 24);
    ground();
    margin(4, 24);
    assertEquals(
        List.of(
            "4 ADVISORY raised LOW_MARGIN",
            "5 ADVISORY cleared LANDED",
            "9 ADVISORY raised LOW_MARGIN"),
        events);
  }

  @Test
  void anAdvisoryIsRaisedOnceAMinute() {
    margin(4, 24);
    margin(8, 40);
    margin(230, 24);
    assertEquals(2, events.size());
    margin(2, 24);
    assertEquals("244 ADVISORY raised LOW_MARGIN", events.get(2), "a minute after step 4");
  }

  @Test
  void anAcknowledgementEndsOnTheGround() {
    margin(4, 24);
    assertEquals(AlertLevel.ADVISORY, monitor.sounding());
    monitor.acknowledge();
    assertEquals(AlertLevel.NONE, monitor.sounding());
    ground();
    margin(4, 24);
    assertEquals(AlertLevel.ADVISORY, monitor.sounding());
  }

  @Test
  void resetEqualsNew() {
    margin(3, 24);
    blind(3);
    monitor.reset();
    assertEquals(NEVER, monitor.marginPercent());
    blind(3);
    assertEquals(List.of(), events);
    margin(3, 24);
    assertEquals(List.of(), events);
    margin(1, 24);
    assertEquals(AlertLevel.ADVISORY, monitor.level());
    monitor.acknowledge();
    monitor.reset();
    assertEquals(AlertLevel.NONE, monitor.level());
    events.clear();
    margin(4, 24);
    assertEquals(1, events.size(), "reset clears the raises of the last minute");
    assertEquals(AlertLevel.ADVISORY, monitor.sounding());
  }

  @Test
  void resetForgetsHowLongAConditionStood() {
    assertEquals(NEVER, monitor.marginPercent(), "nothing is judged yet");
    margin(3, 24);
    monitor.reset();
    margin(3, 24);
    assertEquals(List.of(), events);
  }

  /** Timers are part of what is saved: none has run on the ground, nor after a reset. */
  @Test
  void whatIsSavedOnTheGroundHasNoTimers() {
    AlertMonitor flown = new AlertMonitor(RULES, (nanos, level, raised, reason, low, toZero) -> {});
    AlertMonitor landed =
        new AlertMonitor(RULES, (nanos, level, raised, reason, low, toZero) -> {});
    PowerRow plenty = new PowerRow(300, 160, DEMAND, NEVER);
    flown.update(1, STEP, FlightPhase.TRUSTED, plenty);
    landed.update(1, 0, FlightPhase.TRUSTED, plenty);
    flown.update(2, STEP, FlightPhase.GROUNDED, plenty);
    landed.update(2, STEP, FlightPhase.GROUNDED, plenty);
    assertArrayEquals(saved(landed), saved(flown));
    flown.update(3, STEP, FlightPhase.TRUSTED, new PowerRow(300, 110, DEMAND, 2));
    flown.reset();
    landed.reset();
    assertArrayEquals(saved(landed), saved(flown));
  }

  private static byte[] saved(AlertMonitor monitor) {
    byte[] state = new byte[AlertMonitor.STATE_BYTES];
    monitor.save(state, 0);
    return state;
  }

  @Test
  void availablePowerEqualToTheDemandIsNotGone() {
    PowerRow all = new PowerRow(DEMAND, DEMAND, DEMAND, NEVER);
    monitor.update(1, STEP, FlightPhase.TRUSTED, all);
    assertEquals(List.of(), events);
    monitor.update(2, STEP, FlightPhase.TRUSTED, new PowerRow(99, 99, DEMAND, NEVER));
    assertEquals(List.of("0 WARNING raised LOW_MARGIN"), events);
  }

  /** 25 % with a hysteresis of 25 %: a margin of 50 % itself does not clear. */
  @Test
  void theReleaseItselfIsNotAboveIt() {
    List<String> steps = new ArrayList<>();
    AlertMonitor exact =
        new AlertMonitor(
            new AlertRules(
                new LevelRule(25, 0, 0, 0, 25),
                new LevelRule(-90, 0, 0, 0, 0),
                new LevelRule(-95, 0, 0, 0, 0),
                0.1),
            (nanos, level, raised, reason, low, toZero) -> steps.add(nanos + " " + raised));
    exact.update(1, STEP, FlightPhase.TRUSTED, new PowerRow(300, 124, DEMAND, NEVER));
    exact.update(2, STEP, FlightPhase.TRUSTED, new PowerRow(300, 150, DEMAND, NEVER));
    assertEquals(List.of("1 true"), steps);
    exact.update(3, STEP, FlightPhase.TRUSTED, new PowerRow(300, 151, DEMAND, NEVER));
    assertEquals(List.of("1 true", "3 false"), steps);
  }
}
