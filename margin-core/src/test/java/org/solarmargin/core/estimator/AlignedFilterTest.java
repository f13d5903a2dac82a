package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** How commands and readings become steps of the filter: times in milliseconds. */
class AlignedFilterTest {

  private static final long MS = 1_000_000L;
  private static final double NONE = Double.NaN;

  private final AlignedFilter aligned = started();
  private final AlignedFilter plain = started();

  /** A filter that has taken a pair at 0 with the throttle at 0.5. */
  private static AlignedFilter started() {
    AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    one.command(0, 0.5);
    one.reading(0, 28.6, 2.7, NONE);
    assertTrue(one.predict());
    assertTrue(one.started());
    one.correct(false);
    return one;
  }

  @BeforeEach
  void bothAreAlike() {
    assertSame();
  }

  private void assertSame() {
    for (int j = 0; j < State.UNFILTERED; j++) {
      assertEquals(plain.filter().state(j), aligned.filter().state(j), 1e-12, "state " + j);
      assertEquals(
          plain.filter().covariance().get(j, j),
          aligned.filter().covariance().get(j, j),
          1e-9 * plain.filter().covariance().get(j, j));
    }
  }

  @Test
  void twoCommandsOfAShortStepThatDifferLittleActAsTheirMean() {
    aligned.command(5 * MS, 0.519);
    aligned.reading(20 * MS, 28.5, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.filter().hold(0.25 * 0.5 + 0.75 * 0.519);
    plain.filter().predict(0.02, 0.519);
    assertSame();
    assertEquals(0.519, aligned.sample().throttle, "the reading sees the last one");
    assertEquals(0.02, aligned.elapsedSeconds(), 1e-12);
    assertEquals(0.519, aligned.filter().throttle());
  }

  @Test
  void aLargeMoveIsAStepOfItsOwn() {
    aligned.command(5 * MS, 0.521);
    aligned.reading(20 * MS, 28.5, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.filter().predict(0.005, 0.521);
    plain.filter().setFilterStep(1, 1);
    plain.filter().predict(0.015, 0.521);
    assertSame();
  }

  @Test
  void inALongStepEveryMoveIsAStepOfItsOwn() {
    for (long reading : new long[] {30, 31}) {
      AlignedFilter one = started();
      AlignedFilter other = started();
      one.command(10 * MS, 0.51);
      one.reading(reading * MS, 28.5, 2.7, NONE);
      assertTrue(one.predict());
      double seconds = reading * 1e-3;
      if (reading == 30) {
        other.filter().hold((0.5 + 2 * 0.51) / 3);
        other.filter().predict(seconds, 0.51);
      } else {
        other.filter().predict(0.01, 0.51);
        other.filter().predict(seconds - 0.01, 0.51);
      }
      assertEquals(
          other.filter().state(State.EMF), one.filter().state(State.EMF), 1e-9, reading + " ms");
    }
  }

  @Test
  void aCommandAtTheReadingActsFromThereOn() {
    aligned.command(20 * MS, 0.7);
    aligned.reading(20 * MS, 28.5, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.filter().predict(0.02, 0.7);
    assertSame();
    assertEquals(0.7, aligned.sample().throttle);
  }

  /** The noise of a mean of readings falls by the fourth root of their number in sigma. */
  @Test
  void aMeanOfReadingsIsSharper() {
    aligned.reading(20 * MS, 28.5, 2.7, NONE, 16);
    assertTrue(aligned.predict());
    assertEquals(0.02 * 0.02 / 4, aligned.sample().voltsVariance, 1e-12);
    assertEquals(0.05 * 0.05 / 4, aligned.sample().ampsVariance, 1e-12);
  }

  @Test
  void withoutReadingsTimePassesByTheCommandsGiven() {
    aligned.command(100 * MS, 0.6);
    aligned.coast(300 * MS);
    plain.filter().coast(0.3, 0.6);
    assertSame();
    aligned.coast(300 * MS);
    assertSame();
    aligned.coast(250 * MS);
    assertSame();
    aligned.coast(800 * MS);
    plain.filter().coast(0.5, 0.6);
    assertSame();
  }

  @Test
  void timeWithoutReadingsCountsOnceInTheNextStep() {
    aligned.coast(300 * MS);
    aligned.coast(800 * MS);
    aligned.reading(820 * MS, 28.5, 2.71, NONE);
    assertTrue(aligned.predict());
    assertEquals(0.82, aligned.elapsedSeconds(), 1e-9);
    aligned.correct(false);
    aligned.reading(840 * MS, 28.5, 2.71, NONE);
    assertTrue(aligned.predict());
    assertEquals(0.02, aligned.elapsedSeconds(), 1e-9);
  }

  @Test
  void anEarlierStateIsCarriedToThePresentSample() {
    aligned.reading(20 * MS, 28.5, 2.71, NONE);
    aligned.predict();
    plain.filter().predict(0.02, 0.5);
    aligned.returnFrom(-180 * MS);
    plain.filter().coast(0.2, 0.5);
    assertSame();
    assertEquals(28.5, aligned.filter().state(State.FILTERED_VOLTS));
    assertEquals(2.71, aligned.filter().state(State.FILTERED_AMPS));
    aligned.returnFrom(50 * MS);
    plain.filter().coast(0, 0.5);
    assertSame();
  }

  @Test
  void beginningAnewKeepsTheCommand() {
    aligned.reading(20 * MS, 28.5, 2.71, NONE);
    aligned.predict();
    aligned.correct(false);
    aligned.restart();
    plain.filter().reset();
    plain.filter().start(28.5, 2.71, 0.5);
    assertSame();
    aligned.reset();
    assertFalse(aligned.started());
    aligned.reading(40 * MS, 28.5, 2.71, NONE);
    assertFalse(aligned.predict(), "no command yet");
  }

  /** Without a filter nothing is held; behind one its state has a covariance with the light. */
  @Test
  void filtersAreStatesWhereTheyAre() {
    for (int channel = 0; channel < 3; channel++) {
      ChannelTiming filter = new ChannelTiming(0.06, 0, 0, 0);
      TimeModel model =
          new TimeModel(
              channel == 0 ? filter : ChannelTiming.IMMEDIATE,
              channel == 1 ? filter : ChannelTiming.IMMEDIATE,
              0,
              0,
              true,
              TimeModel.Source.STATED);
      AlignedFilter one = new AlignedFilter(TestCraft.SETTINGS.withTiming(model), model);
      for (int i = 0; i < 5; i++) {
        one.command(i * MS * 20, 0.5 + 0.03 * i);
        one.reading(i * MS * 20, 28.6, 2.7, NONE);
        assertTrue(one.predict());
        one.correct(false);
      }
      assertEquals(channel == 0 ? 0.25 : 1, one.sample().voltsNew, 1e-12);
      assertEquals(channel == 1 ? 0.25 : 1, one.sample().ampsNew, 1e-12);
      // without rounding behind it a filter holds exactly what was read
      if (channel < 2) {
        assertEquals(28.6, one.filter().state(State.FILTERED_VOLTS), 1e-9);
        assertEquals(2.7, one.filter().state(State.FILTERED_AMPS), 1e-9);
      }
      one.command(100 * MS, 0.66);
      one.reading(120 * MS, 28.6, 2.7, NONE);
      one.predict();
      int held = channel == 0 ? State.FILTERED_VOLTS : State.FILTERED_AMPS;
      double covariance = channel == 2 ? 0 : one.filter().covariance().get(State.LIGHT, held);
      assertEquals(channel < 2, covariance != 0, "the filter took in a step's operating point");
    }
  }
}
