package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class AlertMonitorTest {

  private static final double STEP = 0.02;
  private static final double DEMAND = 80;
  private static final double NEVER = Double.POSITIVE_INFINITY;
  private final List<String> events = new ArrayList<>();
  private final AlertMonitor monitor =
      new AlertMonitor(
          AlertRules.DEFAULT,
          (time, level, raised, reason, margin, toZero) ->
              events.add(level + (raised ? " raised " : " cleared ") + reason));
  private double time;

  private void fly(double seconds, double availableLow, double toZero) {
    for (double end = time + seconds; time < end - 1e-9; ) {
      time += STEP;
      monitor.update(
          Math.round(time * 1e9),
          STEP,
          FlightPhase.TRUSTED,
          new PowerRow(availableLow * 1.05, availableLow, DEMAND, toZero));
    }
  }

  @Test
  void anAmpleMarginRaisesNothing() {
    fly(60, 140, NEVER);
    assertEquals(List.of(), events);
  }

  @Test
  void stepsUpAndDownAreReported() {
    fly(5, 140, NEVER);
    fly(5, 98, NEVER);
    fly(5, 90, NEVER);
    fly(5, 84, NEVER);
    fly(5, 98, NEVER);
    assertEquals(
        List.of(
            "ADVISORY raised LOW_MARGIN", "CAUTION raised LOW_MARGIN", "WARNING raised LOW_MARGIN"),
        events,
        "after a third raise in a minute, WARNING is kept until the minute is over");
    fly(60, 98, NEVER);
    assertEquals("WARNING cleared RECOVERED", events.get(3));
    fly(60, 140, NEVER);
    assertEquals("ADVISORY cleared RECOVERED", events.get(events.size() - 1));
    assertEquals(AlertLevel.NONE, monitor.level());
  }

  @Test
  void aBriefDipRaisesNothing() {
    fly(5, 140, NEVER);
    fly(0.1, 84, NEVER);
    fly(5, 140, NEVER);
    assertEquals(List.of(), events);
  }

  @Test
  void aFastFallWarnsBeforeTheMarginIsSmall() {
    fly(5, 140, NEVER);
    fly(1, 130, 4);
    assertEquals(List.of("WARNING raised FALLING"), events);
  }

  @Test
  void pastTheKneeWarnsAtOnce() {
    fly(5, 140, NEVER);
    time += STEP;
    monitor.update(
        Math.round(time * 1e9), STEP, FlightPhase.PAST_KNEE, new PowerRow(140, 135, 50, NEVER));
    assertEquals(List.of("WARNING raised PAST_KNEE"), events);
  }

  @Test
  void availableUnderDemandWarnsAtOnce() {
    fly(5, 140, NEVER);
    time += STEP;
    monitor.update(
        Math.round(time * 1e9), STEP, FlightPhase.TRUSTED, new PowerRow(50, 45, 80, NEVER));
    assertEquals(List.of("WARNING raised LOW_MARGIN"), events);
  }

  @Test
  void theDemandPeakOfAGustDecaysSlowly() {
    fly(5, 140, NEVER);
    monitor.update(
        Math.round((time += STEP) * 1e9),
        STEP,
        FlightPhase.TRUSTED,
        new PowerRow(147, 140, 125, NEVER));
    fly(1, 129, NEVER);
    assertEquals(List.of("WARNING raised LOW_MARGIN"), events);
  }

  @Test
  void refusedSamplesRaiseACaution() {
    fly(5, 140, NEVER);
    for (int i = 0; i < 60; i++) {
      time += STEP;
      monitor.update(
          Math.round(time * 1e9), STEP, FlightPhase.BLIND, new PowerRow(140, 135, 80, NEVER));
    }
    assertEquals(List.of("CAUTION raised NO_DATA"), events);
  }

  @Test
  void onTheGroundAlertsAreCleared() {
    fly(5, 84, NEVER);
    assertEquals(AlertLevel.WARNING, monitor.level());
    time += STEP;
    monitor.update(
        Math.round(time * 1e9), STEP, FlightPhase.GROUNDED, new PowerRow(84, 80, 80, NEVER));
    assertEquals(AlertLevel.NONE, monitor.level());
    assertTrue(events.get(events.size() - 1).endsWith("cleared LANDED"), events.toString());
    int before = events.size();
    for (int i = 0; i < 500; i++) {
      time += STEP;
      monitor.update(
          Math.round(time * 1e9), STEP, FlightPhase.GROUNDED, new PowerRow(10, 5, 80, 0.1));
    }
    assertEquals(before, events.size());
  }

  @Test
  void rulesAreStatedAsText() {
    assertEquals(
        "WARNING when the lower bound of the margin stays below 7.5 % of the 10 s peak demand or would"
            + " reach zero within 5 s, for 0.2 s; at once when the available power is below the"
            + " demand or the craft is past the knee. Withdrawn when the margin is above 13.5 % and"
            + " would not reach zero within 7.5 s and has been so for 10 s, but not while it has been"
            + " raised 3 times within a minute.",
        AlertRules.DEFAULT.words(AlertLevel.WARNING));
    assertTrue(
        AlertRules.DEFAULT
            .words(AlertLevel.CAUTION)
            .endsWith("is above 20 % and would not reach zero within 15 s."));
  }
}
