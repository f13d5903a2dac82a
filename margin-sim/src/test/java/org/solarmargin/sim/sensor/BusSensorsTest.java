package org.solarmargin.sim.sensor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.ReadingTiming;

class BusSensorsTest {

  private static final double STEP = 0.005;

  private static ReadingTiming timing(double filter, double delay, double period) {
    return new ReadingTiming(FilterShape.FIRST_ORDER, filter, delay, period);
  }

  private static BusSensors sensors(
      ReadingTiming volts, ReadingTiming amps, double noise, double rounding) {
    return new BusSensors(
        new SensorErrors(
            new ChannelErrors(1, 0, noise, volts, rounding),
            new ChannelErrors(1, 0, noise, amps, rounding),
            ReadingFaults.NONE),
        STEP,
        50,
        new Random(1),
        new Random(2));
  }

  @Test
  void voltageAndCurrentHaveSeparateTiming() {
    BusSensors sensors = sensors(timing(0.08, 0, 0), timing(0, 0.06, 0), 0, 0);
    for (int i = 0; i < 200; i++) {
      double rise = i * STEP;
      sensors.follow(i == 0 ? 20 : 30, i);
      sensors.read(i * STEP);
      double exact = i == 0 ? 20 : 30 - 10 * Math.exp(-(rise - STEP) / 0.08);
      assertEquals(exact, sensors.volts(), 1e-9, "step " + i);
      assertEquals(Math.max(i - 12, 0), sensors.amps(), "step " + i);
    }
  }

  /** A filtered and delayed reading is the filter's exact response one delay ago. */
  @Test
  void theDelayFollowsTheFilter() {
    BusSensors sensors = sensors(timing(0.1, 0.04, 0), ReadingTiming.IMMEDIATE, 0, 0);
    sensors.follow(20, 0);
    for (int i = 0; i < 200; i++) {
      sensors.follow(30, 0);
      sensors.read(i * STEP);
      double since = Math.max(i * STEP - 0.04, 0);
      assertEquals(30 - 10 * Math.exp(-since / 0.1), sensors.volts(), 1e-9, "step " + i);
    }
  }

  @Test
  void aHeldReadingIsTakenEveryPeriodAndRepeatedInBetween() {
    BusSensors sensors = sensors(timing(0, 0, 0.125), timing(0, 0, 0.02), 0.02, 0);
    double held = Double.NaN;
    for (int i = 0; i < 400; i++) {
      sensors.follow(20 + i, 3);
      sensors.read(i * STEP);
      if (i % 25 == 0) {
        assertNotEquals(held, sensors.volts());
        assertEquals(20 + i, sensors.volts(), 0.1);
        held = sensors.volts();
      }
      assertEquals(held, sensors.volts(), "a repeat is exactly equal, including its noise");
    }
  }

  @Test
  void roundingComesLast() {
    BusSensors sensors = sensors(timing(0.1, 0, 0), ReadingTiming.IMMEDIATE, 0, 0.25);
    for (int i = 0; i < 100; i++) {
      sensors.follow(i == 0 ? 20 : 30, 3.1);
      sensors.read(i * STEP);
      assertEquals(sensors.volts(), Math.rint(4 * sensors.volts()) / 4);
      assertEquals(3.0, sensors.amps());
    }
  }

  /**
   * Noise of 1 sigma s, new every 20 ms, through a first-order filter: s sqrt((1 - e) / (1 + e))
   * with e = exp(-0.02/T), at the instants of the noise; closed form of a first-order
   * autoregression. An immediate reading has the full noise.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.08, 0.3})
  void theFilterReducesTheNoiseAheadOfIt(double seconds) {
    BusSensors sensors = sensors(timing(seconds, 0, 0), ReadingTiming.IMMEDIATE, 0.5, 0);
    double filtered = 0;
    double plain = 0;
    int count = 400_000;
    for (int i = 0; i < count; i++) {
      sensors.follow(0, 0);
      if (i % 4 == 0) {
        sensors.read(i * STEP);
        filtered += sensors.volts() * sensors.volts();
        plain += sensors.amps() * sensors.amps();
      }
    }
    double decay = Math.exp(-0.02 / seconds);
    double expected = 0.5 * Math.sqrt((1 - decay) / (1 + decay));
    assertEquals(expected, Math.sqrt(4 * filtered / count), 0.03 * expected);
    assertEquals(0.5, Math.sqrt(4 * plain / count), 0.01);
  }

  private static BusSensors faulty(ReadingFaults faults) {
    ChannelErrors exact = new ChannelErrors(1, 0, 0, ReadingTiming.IMMEDIATE, 0);
    return new BusSensors(
        new SensorErrors(exact, exact, faults), STEP, 50, new Random(1), new Random(2));
  }

  /**
   * Half of the spikes are a third of the voltage, half a current of three times and 1 A more. The
   * counts of 20000 draws lie within four standard errors (binomial) of a tenth.
   */
  @Test
  void spikesAndGapsComeAsOftenAsStated() {
    double never = Double.POSITIVE_INFINITY;
    BusSensors sensors = faulty(new ReadingFaults(0, 0.1, 0.2, never, 0));
    int low = 0;
    int high = 0;
    int missing = 0;
    int count = 20_000;
    for (int i = 0; i < count; i++) {
      sensors.follow(30, 2);
      missing += sensors.read(i * 0.02) ? 0 : 1;
      low += sensors.volts() == 10 && sensors.amps() == 2 ? 1 : 0;
      high += sensors.volts() == 30 && sensors.amps() == 7 ? 1 : 0;
    }
    double fourErrors = 4 * Math.sqrt(count * 0.1 * 0.9);
    assertEquals(0.1 * count, low, fourErrors);
    assertEquals(0.1 * count, high, fourErrors);
    assertEquals(0.1 * count, missing, fourErrors);
  }

  /** The current stands still from 1 s until before 3 s; the voltage goes on. */
  @Test
  void aFrozenCurrentRepeatsItsLastReading() {
    BusSensors sensors = faulty(new ReadingFaults(0, 0, 0, 1, 2));
    for (int i = 0; i < 50; i++) {
      sensors.follow(20 + i, i);
      sensors.read(0.1 * i);
      assertEquals(20 + i, sensors.volts());
      boolean frozen = i >= 10 && 0.1 * i < 3;
      assertEquals(frozen ? 9 : i, sensors.amps(), "sample " + i);
    }
  }
}
