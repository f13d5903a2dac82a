package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class AlertRulesTest {

  private static final LevelRule ANY = new LevelRule(10, 5, 1, 2, 3);

  private static String refusal(double margin, double time, double on, double off, double back) {
    return assertThrows(
            IllegalArgumentException.class, () -> new LevelRule(margin, time, on, off, back))
        .getMessage();
  }

  @Test
  void theLimitsAreInclusive() {
    assertEquals(-100, new LevelRule(-100, 0, 0, 0, 0).marginPercent());
    assertEquals(500, new LevelRule(500, 600, 60, 600, 100).marginPercent());
    assertEquals(0.1, new AlertRules(ANY, ANY, ANY, 0.1).peakMemorySeconds());
    assertEquals(600, new AlertRules(ANY, ANY, ANY, 600).peakMemorySeconds());
  }

  @Test
  void valuesOutOfRangeAreReportedWithRuleAndValue() {
    assertEquals("marginPercent must be in [-100.0, 500.0]: -100.1", refusal(-100.1, 0, 0, 0, 0));
    assertEquals("marginPercent must be in [-100.0, 500.0]: 501.0", refusal(501, 0, 0, 0, 0));
    assertEquals("timeSeconds must be in [0.0, 600.0]: NaN", refusal(0, Double.NaN, 0, 0, 0));
    assertEquals("onDelaySeconds must be in [0.0, 60.0]: 61.0", refusal(0, 0, 61, 0, 0));
    assertEquals("offDelaySeconds must be in [0.0, 600.0]: -1.0", refusal(0, 0, 0, -1, 0));
    assertEquals("hysteresisPercent must be in [0.0, 100.0]: 101.0", refusal(0, 0, 0, 0, 101));
  }

  @ParameterizedTest
  @CsvSource({"10, 11, 5", "20, 10, 11"})
  void marginsMustFallFromLevelToLevel(double advisory, double caution, double warning) {
    LevelRule a = new LevelRule(advisory, 0, 0, 0, 0);
    LevelRule c = new LevelRule(caution, 0, 0, 0, 0);
    LevelRule w = new LevelRule(warning, 0, 0, 0, 0);
    assertThrows(IllegalArgumentException.class, () -> new AlertRules(a, c, w, 10));
  }

  @ParameterizedTest
  @CsvSource({"0.09", "601", "NaN"})
  void memoryMustBeInRange(double seconds) {
    String message =
        assertThrows(IllegalArgumentException.class, () -> new AlertRules(ANY, ANY, ANY, seconds))
            .getMessage();
    assertEquals("peakMemorySeconds must be in [0.1, 600]: " + seconds, message);
  }

  @Test
  void eachLevelHasItsOwnRule() {
    AlertRules rules = AlertRules.DEFAULT;
    assertSame(rules.advisory(), rules.of(AlertLevel.ADVISORY));
    assertSame(rules.caution(), rules.of(AlertLevel.CAUTION));
    assertSame(rules.warning(), rules.of(AlertLevel.WARNING));
    assertThrows(IllegalArgumentException.class, () -> rules.of(AlertLevel.NONE));
  }

  @Test
  void theTextOmitsDisabledConditionsAndRounds() {
    LevelRule rule = new LevelRule(12.34567, 0, 0.5, 0, 7);
    assertEquals(
        "CAUTION when the lower bound of the margin stays below 12.346 % of the 10 s peak demand"
            + " for 0.5 s; at once when the available power is below the demand or the craft is past"
            + " the knee, or samples have been refused for 1 s. Withdrawn when the margin is above"
            + " 19.346 %.",
        new AlertRules(rule, rule, rule, 10).words(AlertLevel.CAUTION));
    assertEquals("on the ground", AlertReason.LANDED.words());
  }
}
