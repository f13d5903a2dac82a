package org.solarmargin.core.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

class AlignerTest {

  private static final long STEP = 20_000_000L;
  private static final long SECOND = 1_000_000_000L;

  private static Aligner aligner(ChannelTiming volts, ChannelTiming amps, double commandDelay) {
    return new Aligner(
        new TimeModel(volts, amps, 0, commandDelay, true, TimeModel.Source.STATED), 0.02, 0.05);
  }

  /**
   * The filter's discrete form {@code y = (1 - c) y' + c x}, c = h / (tau + h), compared with the
   * exact solution of tau dy/dt + y = x for a ramp, y = t - tau (1 - exp(-t / tau)): the mean lag
   * is exact, the error of the transient is less than half a step.
   */
  @ParameterizedTest
  @CsvSource({"0.02, 0.08", "0.02, 0.3", "0.1, 0.3", "0.02, 1", "0.5, 1"})
  void theDiscreteFilterHasTheLagOfTheExactOne(double h, double tau) {
    double c = CommandQueue.share(h, tau);
    double y = 0;
    for (int i = 1; i <= 60 * tau / h; i++) {
      double t = i * h;
      y += c * (t - y);
      double exact = t - tau * (1 - Math.exp(-t / tau));
      assertEquals(exact, y, 0.5 * h);
    }
    double end = Math.floor(60 * tau / h) * h;
    assertEquals(tau, end - y, 1e-9 * end);
  }

  @Test
  void aDelayedCommandActsLater() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0.04);
    aligner.command(0, 0.3);
    aligner.command(STEP, 0.4);
    assertFalse(aligner.commandDue(STEP));
    assertTrue(aligner.commandDue(2 * STEP));
    assertEquals(0.3, aligner.takeCommand());
    assertFalse(aligner.commandDue(2 * STEP));
    assertTrue(aligner.commandDue(3 * STEP));
    assertEquals(0.4, aligner.takeCommand());
  }

  @Test
  void channelsOfUnequalDelayAreReturnedInOrderOfTheirInstants() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, new ChannelTiming(0, 0.03, 0, 0), 0);
    Sample sample = new Sample();
    aligner.volts(0, 20);
    aligner.amps(0, 3);
    assertTrue(aligner.next(sample));
    assertTrue(sample.hasVolts && sample.hasAmps, "the first pair is returned unchanged");
    long last = sample.nanos;
    int voltsSeen = 0;
    int ampsSeen = 0;
    for (int i = 1; i <= 20; i++) {
      aligner.volts(i * STEP, 20 + i);
      aligner.amps(i * STEP, 3 + 0.1 * i);
      while (aligner.next(sample)) {
        assertTrue(sample.hasVolts != sample.hasAmps, "half a step apart");
        assertTrue(sample.nanos > last);
        assertTrue(sample.nanos <= i * STEP - 30_000_000L + 400_000L, "no earlier one can arrive");
        last = sample.nanos;
        if (sample.hasVolts) {
          voltsSeen++;
          assertEquals(20 + sample.nanos / (double) STEP, sample.volts, 1e-9);
        } else {
          ampsSeen++;
          assertEquals(3 + 0.1 * (sample.nanos + 30_000_000L) / STEP, sample.amps, 1e-9);
        }
      }
    }
    assertEquals(18, voltsSeen);
    assertEquals(19, ampsSeen, "those before the first pair are dropped");
  }

  @Test
  void alternatingChannelsAreReturnedSeparately() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0);
    Sample sample = new Sample();
    aligner.volts(0, 20);
    assertFalse(aligner.next(sample), "the first sample has both");
    aligner.amps(STEP, 3);
    assertTrue(aligner.next(sample));
    assertEquals(STEP, sample.nanos);
    aligner.volts(2 * STEP, 22);
    assertTrue(aligner.next(sample));
    assertTrue(sample.hasVolts);
    assertFalse(sample.hasAmps);
    assertEquals(2 * STEP, sample.nanos);
    assertEquals(22, sample.volts, 1e-9);
    aligner.amps(3 * STEP, 4);
    assertTrue(aligner.next(sample));
    assertTrue(sample.hasAmps);
    assertFalse(sample.hasVolts);
    assertEquals(4, sample.amps, 1e-9);
    assertFalse(aligner.next(sample));
  }

  @Test
  void delaysOfWholeIntervalsPairTheChannels() {
    Aligner aligner = aligner(new ChannelTiming(0, 0.06, 0, 0), ChannelTiming.IMMEDIATE, 0);
    Sample sample = new Sample();
    int pairs = 0;
    for (int i = 0; i <= 20; i++) {
      aligner.volts(i * STEP, 20 + i);
      aligner.amps(i * STEP, 3 + 0.1 * i);
      while (aligner.next(sample)) {
        pairs += sample.hasVolts && sample.hasAmps ? 1 : 0;
        if (i > 5) {
          assertEquals(20 + sample.nanos / (double) STEP + 3, sample.volts, 1e-9);
          assertEquals(3 + 0.1 * sample.nanos / STEP, sample.amps, 1e-9);
        }
      }
    }
    assertTrue(pairs > 15, "pairs: " + pairs);
  }

  @Test
  void theWeightOfANewValueFollowsFromTheFilter() {
    Aligner aligner = aligner(new ChannelTiming(0.06, 0, 0, 0.01), ChannelTiming.IMMEDIATE, 0);
    Sample sample = new Sample();
    for (int i = 0; i < 3; i++) {
      aligner.volts(i * STEP, 20);
      aligner.amps(i * STEP, 3);
      assertTrue(aligner.next(sample));
    }
    assertEquals(0.25, aligner.voltsNew(0.02), 1e-12);
    assertEquals(1, aligner.ampsNew(0.02));
    assertEquals(0.01 * 0.01 / 12, sample.voltsReadout, 1e-15);
  }

  @Test
  void commandsCloseTogetherFitAtAnyRate() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0.5);
    double last = 0;
    for (int i = 0; i < 2000; i++) {
      long now = i * 1_000_000L;
      aligner.command(now, 0.5 + 1e-4 * i);
      while (aligner.commandDue(now)) {
        last = aligner.takeCommand();
      }
    }
    assertEquals(0.5 + 1e-4 * 1500, last, 1e-4 * 12, "the command of half a second ago");
  }

  private static Aligner averaging() {
    TimeModel unknown = TimeModel.UNKNOWN;
    Aligner aligner = new Aligner(unknown, 0.02, 0.05);
    assertSame(unknown, aligner.model());
    return aligner;
  }

  /** Where the throttle's timing is not known, it is averaged over 2 s: h / (2 + h) of a move. */
  @Test
  void aThrottleThatCannotBeTrustedIsAveraged() {
    Aligner aligner = averaging();
    aligner.command(7 * STEP, 0.5);
    assertTrue(aligner.commandDue(7 * STEP));
    assertEquals(7 * STEP, aligner.commandTime());
    assertEquals(0.5, aligner.takeCommand(), "the first as it is");
    aligner.command(7 * STEP + 500_000_000L, 0.6);
    assertEquals(0.5 + 0.1 * 0.5 / 2.5, aligner.takeCommand(), 1e-12);
    aligner.command(7 * STEP + 400_000_000L, 0.7);
    assertFalse(aligner.commandDue(100 * STEP), "no time passes backward");
    // 0.4 of the greater is a take-off or landing; 0.52 is the average
    aligner.command(7 * STEP + 600_000_000L, 0.52 / 0.59);
    assertEquals(0.52 / 0.59, aligner.takeCommand(), 1e-12);
    aligner.command(7 * STEP + 700_000_000L, 0.6 * 0.52 / 0.59 - 1e-9);
    assertEquals(0.6 * 0.52 / 0.59 - 1e-9, aligner.takeCommand(), 1e-12);
    aligner.reset();
    aligner.command(8 * STEP, 0.5);
    assertEquals(0.5, aligner.takeCommand());
    aligner.command(9 * STEP, 0.8);
    assertEquals(0.5 + 0.3 * 0.02 / 2.02, aligner.takeCommand(), 1e-12, "0.375 of the greater");
    aligner.command(10 * STEP, 0.31);
    double before = 0.5 + 0.3 * 0.02 / 2.02;
    assertEquals(before + (0.31 - before) * 0.02 / 2.02, aligner.takeCommand(), 1e-12);
  }

  @Test
  void resetForgetsCommandsAndReadings() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0);
    Sample sample = new Sample();
    aligner.command(0, 0.5);
    aligner.volts(0, 20);
    aligner.reset();
    assertFalse(aligner.commandDue(STEP));
    aligner.amps(STEP, 3);
    assertFalse(aligner.next(sample), "no voltage");
    aligner.reset();
    aligner.volts(2 * STEP, 21);
    assertFalse(aligner.next(sample), "no current");
    aligner.amps(2 * STEP, 4);
    assertTrue(aligner.next(sample));
    assertEquals(2 * STEP, sample.nanos);
    assertEquals(21, sample.volts);
    assertEquals(4, sample.amps);
    assertEquals(0.0004, sample.voltsVariance, 1e-15);
    assertEquals(0.0025, sample.ampsVariance, 1e-15);
    assertFalse(sample.hasCellCelsius());
    sample.cellCelsius = 40;
    assertTrue(sample.hasCellCelsius());
    aligner.reset();
    aligner.volts(-STEP, 22);
    aligner.amps(-STEP, 5);
    assertTrue(aligner.next(sample), "another clock");
    assertEquals(-STEP, sample.nanos);
  }

  /**
   * Instants that differ by 0.4 ms at most are one; a reading older than the last tells nothing.
   */
  @Test
  void instantsThatDifferByRoundingAreOne() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0);
    Sample sample = new Sample();
    aligner.volts(0, 20);
    aligner.amps(0, 3);
    assertTrue(aligner.next(sample));
    for (long apart : new long[] {400_000L, 400_001L}) {
      long at = sample.nanos + STEP;
      aligner.volts(at, 21);
      aligner.amps(at + apart, 4);
      assertTrue(aligner.next(sample));
      assertTrue(sample.hasVolts);
      assertEquals(apart == 400_000L, sample.hasAmps, "apart by " + apart);
      assertEquals(sample.hasAmps ? at + apart : at, sample.nanos);
      assertEquals(!sample.hasAmps, aligner.next(sample));
    }
    long last = sample.nanos;
    aligner.amps(last + 300_000L, 9);
    assertFalse(aligner.next(sample), "no newer instant");
    aligner.volts(last + 400_000L, 9);
    assertFalse(aligner.next(sample));
    aligner.volts(last + 400_001L, 22);
    assertTrue(aligner.next(sample));
    assertEquals(22, sample.volts);
  }

  /** A current that is 40 ms late may still come for an instant until 40 ms after it. */
  @Test
  void aReadingWaitsForTheDelayOfTheOther() {
    Aligner aligner = aligner(ChannelTiming.IMMEDIATE, new ChannelTiming(0, 0.04, 0, 0), 0);
    Sample sample = new Sample();
    aligner.volts(0, 20);
    aligner.amps(0, 3);
    assertTrue(aligner.next(sample));
    aligner.volts(100_000_000L, 21);
    aligner.volts(139_599_999L, 22);
    assertFalse(aligner.next(sample));
    aligner.volts(139_600_000L, 23);
    assertTrue(aligner.next(sample));
    assertEquals(21, sample.volts);
    assertFalse(aligner.next(sample));
  }

  /** The channel without a delay waits for the other one, and must not be dropped meanwhile. */
  @ParameterizedTest
  @ValueSource(ints = {10, 50, 60, 80, 95, 100, 120, 150, 200, 500, 1000})
  void bothChannelsAreUsedAtAnyRateAndDelay(int hertz) {
    for (int delayMs = 0; delayMs <= 500; delayMs += 20) {
      Aligner aligner =
          aligner(ChannelTiming.IMMEDIATE, new ChannelTiming(0, delayMs / 1000.0, 0, 0), 0);
      Sample sample = new Sample();
      long lastVolts = 0;
      long longest = 0;
      for (int i = 0; i < 3 * hertz; i++) {
        long now = i * SECOND / hertz;
        aligner.volts(now, 20);
        aligner.amps(now, 3);
        while (aligner.next(sample)) {
          if (sample.hasVolts) {
            longest = Math.max(longest, sample.nanos - lastVolts);
            lastVolts = sample.nanos;
          }
        }
      }
      String where = delayMs + " ms at " + hertz + " Hz";
      assertTrue(longest <= STEP + SECOND / hertz, "no voltage for " + longest + " ns: " + where);
      assertTrue(lastVolts > 2.3 * SECOND, "last voltage " + lastVolts + ": " + where);
    }
  }

  /** Commands wait for their delay, and readings may be late by half a second. */
  @ParameterizedTest
  @CsvSource({"0, 0.5", "0.1, 0.45", "0.3, 0.3", "0.5, 0.5"})
  void commandsActWhateverTheirRateDelayAndTheLatenessOfReadings(double delay, double lateness) {
    long late = Math.round(lateness * SECOND);
    for (int hertz : new int[] {20, 50, 100, 1000}) {
      Aligner aligner = aligner(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, delay);
      Sample sample = new Sample();
      double acting = 0;
      for (int i = 0; i < 4 * hertz; i++) {
        long now = i * SECOND / hertz;
        aligner.command(now, 0.2 + 0.1 * i / hertz);
        aligner.volts(now - late, 20);
        aligner.amps(now - late, 3);
        while (aligner.next(sample)) {
          while (aligner.commandDue(sample.nanos)) {
            acting = aligner.takeCommand();
          }
        }
      }
      double expected = 0.2 + 0.1 * (4 - delay - lateness);
      assertEquals(expected, acting, 0.1 * (0.011 + 1.0 / hertz), "at " + hertz + " Hz");
    }
  }
}
