package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;

/** A restart in flight changes nothing that follows. */
class SavedAlertsProperties {

  private static final long STEP_NANOS = 250_000_000L;
  private static final int AT = 3;

  private final List<String> told = new ArrayList<>();

  private AlertMonitor monitor() {
    return new AlertMonitor(
        AlertRules.DEFAULT,
        (nanos, level, raised, reason, margin, toZero) ->
            told.add(nanos / STEP_NANOS + " " + level + raised + reason + margin + toZero));
  }

  /** One step of a flight whose margin wanders, with blind moments and knees, and landings. */
  private static void step(AlertMonitor monitor, Random random, long nanos) {
    double low = 100 + 8 * random.nextGaussian() + 15 * Math.sin(nanos * 3e-10);
    boolean blind = random.nextInt(12) == 0;
    boolean knee = random.nextInt(40) == 0;
    double toZero = random.nextInt(3) == 0 ? 20 * random.nextDouble() : Double.POSITIVE_INFINITY;
    boolean airborne = random.nextInt(100) > 0;
    FlightPhase air =
        blind ? FlightPhase.BLIND : knee ? FlightPhase.PAST_KNEE : FlightPhase.TRUSTED;
    monitor.update(
        nanos,
        STEP_NANOS * 1e-9,
        airborne ? air : FlightPhase.GROUNDED,
        new PowerRow(1.1 * low, low, 85, toZero));
    if (random.nextInt(30) == 0) {
      monitor.acknowledge();
    }
  }

  @Property(tries = 200)
  void aRestartChangesNothingThatFollows(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 600) int before) {
    AlertMonitor whole = monitor();
    Random random = new Random(seed);
    for (int i = 0; i < before; i++) {
      step(whole, random, i * STEP_NANOS);
    }
    byte[] state = new byte[AT + AlertMonitor.STATE_BYTES];
    whole.save(state, AT);
    AlertMonitor restored = monitor();
    told.clear();
    // the new process counts its time from another origin
    long shift = 7 * STEP_NANOS;
    long saved = (before - 1) * STEP_NANOS + shift;
    assertTrue(restored.restore(state, AT, saved, saved));
    assertEquals(whole.level() == AlertLevel.NONE ? 0 : 1, told.size(), "told of what stands");
    assertEquals(whole.level(), restored.level());
    assertEquals(whole.sounding(), restored.sounding());
    assertEquals(whole.marginPercent(), restored.marginPercent());
    Random again = new Random(seed + 1);
    random = new Random(seed + 1);
    for (int i = before; i < before + 600; i++) {
      told.clear();
      step(whole, random, i * STEP_NANOS + shift);
      List<String> byWhole = List.copyOf(told);
      told.clear();
      step(restored, again, i * STEP_NANOS + shift);
      assertEquals(byWhole, told, "step " + i);
      assertEquals(whole.level(), restored.level(), "step " + i);
      assertEquals(whole.sounding(), restored.sounding(), "step " + i);
    }
  }
}
