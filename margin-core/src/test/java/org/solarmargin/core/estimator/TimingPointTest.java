package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** A time model in the coordinates of the search; expected values are worked out by hand. */
class TimingPointTest {

  private static final double CLOSE = 1e-12;

  /** Noise of 0.02 V and 0.05 A. */
  private static final EstimatorSettings.Sensors SENSORS = TestCraft.SETTINGS.sensors();

  private final TimingPoint point = new TimingPoint();

  private static FlightRecording recording(double voltsStep, double ampsStep) {
    FlightRecording recording = new FlightRecording(2, 0);
    recording.add(0, 0.5, 16, 4);
    recording.add(20_000_000, 0.5, 16 + voltsStep, 4 + ampsStep);
    return recording;
  }

  private TimeModel model() {
    return point.model(recording(0, 0), SENSORS, true);
  }

  @Test
  void equalFiltersHaveNothingElse() {
    for (int parameter = 0; parameter < TimingPoint.PARAMETERS; parameter++) {
      point.set(parameter, 0.4);
    }
    point.setFilters(0.25);
    TimeModel model = model();
    assertEquals(0.25, model.volts().filterSeconds(), CLOSE);
    assertEquals(0.25, model.amps().filterSeconds(), CLOSE);
    assertEquals(0, model.volts().delaySeconds());
    assertEquals(0, model.amps().delaySeconds());
    assertEquals(0, model.volts().roundingStep());
    assertEquals(0, model.amps().roundingStep());
    assertEquals(0, model.commandLagSeconds());
    assertEquals(0, model.commandDelaySeconds());
    assertTrue(model.throttleUsed());
    assertEquals(TimeModel.Source.FOUND, model.source());
    assertEquals(0, point.penalty());
    TimingPoint other = new TimingPoint();
    other.copy(point);
    for (int parameter = 0; parameter < TimingPoint.PARAMETERS; parameter++) {
      assertEquals(point.get(parameter), other.get(parameter));
    }
  }

  @Test
  void noFilterIsTheTimeModelOfOneInstant() {
    point.setFilters(0);
    assertEquals(ChannelTiming.IMMEDIATE, model().volts());
    assertEquals(ChannelTiming.IMMEDIATE, model().amps());
    point.setFilters(0.00099);
    assertEquals(0, point.seconds(TimingPoint.VOLTS), "less than a millisecond is none");
    point.setFilters(0.00101);
    assertEquals(0.00101, point.seconds(TimingPoint.VOLTS), CLOSE);
  }

  @Test
  void eachChannelHasItsOwnTiming() {
    point.setFilters(0);
    point.setSeconds(TimingPoint.VOLTS, 0.1);
    point.setSeconds(TimingPoint.AMPS, 0.3);
    point.setSeconds(TimingPoint.COMMAND_LAG, 0.05);
    point.set(TimingPoint.COMMAND_DELAY, 0.07);
    point.set(TimingPoint.AMPS_DELAY, 0.04);
    TimeModel late = model();
    assertEquals(0.1, late.volts().filterSeconds(), CLOSE);
    assertEquals(0.3, late.amps().filterSeconds(), CLOSE);
    assertEquals(0.05, late.commandLagSeconds(), CLOSE);
    assertEquals(0.07, late.commandDelaySeconds());
    assertEquals(0, late.volts().delaySeconds());
    assertEquals(0.04, late.amps().delaySeconds());
    point.set(TimingPoint.AMPS_DELAY, -0.04);
    assertEquals(0.04, model().volts().delaySeconds(), "an early current is a late voltage");
    assertEquals(0, model().amps().delaySeconds());
  }

  @Test
  void delaysAreLimitedToThoseOfATimeModel() {
    double[][] limits = {
      {-0.6, -0.5, 0}, {-0.5, -0.5, 0}, {-0.1, -0.1, 0}, {0.1, 0.1, 0.1}, {0.6, 0.5, 0.5}
    };
    for (double[] limit : limits) {
      point.setFilters(0);
      point.set(TimingPoint.AMPS_DELAY, limit[0]);
      point.set(TimingPoint.COMMAND_DELAY, limit[0]);
      point.limitDelays();
      assertEquals(limit[1], point.get(TimingPoint.AMPS_DELAY));
      assertEquals(limit[2], point.get(TimingPoint.COMMAND_DELAY));
    }
  }

  /** Each property of the size that is just unusual costs two thirds of 0.03. */
  @Test
  void unusualPropertiesArePenalised() {
    point.setFilters(0.1);
    point.set(TimingPoint.VOLTS, point.get(TimingPoint.AMPS) + 0.2);
    assertEquals(0.02, point.penalty(), CLOSE);
    point.set(TimingPoint.AMPS_DELAY, -0.015);
    assertEquals(0.04, point.penalty(), CLOSE);
    point.set(TimingPoint.COMMAND_DELAY, 0.015);
    assertEquals(0.06, point.penalty(), CLOSE);
    point.setSeconds(TimingPoint.COMMAND_LAG, 0.015);
    assertEquals(0.08, point.penalty(), CLOSE);
    point.set(TimingPoint.AMPS_DELAY, 10);
    assertEquals(0.09, point.penalty(), 1e-6, "a great one costs 0.03");
    // twice the size: 4 / 4.5
    point.setFilters(0.1);
    point.setSeconds(TimingPoint.COMMAND_LAG, 0.03);
    assertEquals(0.03 * 4 / 4.5, point.penalty(), CLOSE);
  }

  /** A fifth shorter; from 0.4 s on by another 35 % of the excess: 0.8 / 1.21 for 1 s. */
  @ParameterizedTest
  @CsvSource({"0.2, 0.16", "0.4, 0.32", "1, 0.66115702479", "0, 0"})
  void equalFiltersAreShortened(double found, double used) {
    point.setFilters(found);
    point.shorten(0.02, 0.02);
    assertEquals(used, point.seconds(TimingPoint.VOLTS), 1e-10);
    assertEquals(used, point.seconds(TimingPoint.AMPS), 1e-10);
  }

  @Test
  void unequalFiltersAreKept() {
    point.setFilters(1);
    point.set(TimingPoint.VOLTS, 0.2);
    point.set(TimingPoint.AMPS, 0);
    point.shorten(0.02, 0.02);
    assertEquals(0.2, point.get(TimingPoint.VOLTS), CLOSE);
    assertEquals(0, point.get(TimingPoint.AMPS), CLOSE);
    // less than a fifth is equal: 0.8 (e^0.19 - 0.02) / (1 + 0.35 (e^0.19 - 0.42))
    point.set(TimingPoint.VOLTS, 0.19);
    point.shorten(0.02, 0.02);
    double seconds = Math.exp(0.19) - 0.02;
    assertEquals(
        0.8 * seconds / (1 + 0.35 * (seconds - 0.4)), point.seconds(TimingPoint.VOLTS), CLOSE);
  }

  /** Filters cannot be told from rows 0.1 s apart: at most a quarter of the fresh interval. */
  @Test
  void filtersOfSlowRowsAreLimited() {
    point.setFilters(0.5);
    point.shorten(0.1, 0.16);
    assertEquals(0.04, point.seconds(TimingPoint.VOLTS), CLOSE);
    assertEquals(0.04, point.seconds(TimingPoint.AMPS), CLOSE);
    point.setFilters(0.2);
    point.shorten(Math.nextDown(0.1), 0.16);
    assertEquals(0.16, point.seconds(TimingPoint.VOLTS), CLOSE);
    point.setFilters(0.02);
    point.shorten(0.1, 0.16);
    assertEquals(0.016, point.seconds(TimingPoint.AMPS), CLOSE);
  }

  /** A step below the noise matters behind a filter only, where there is no noise. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.1})
  void theStepIsThatOfTheReadings(double filter) {
    point.setFilters(filter);
    // 1/64 V and 1/32 A are less than the noise
    TimeModel fine = point.model(recording(0.015625, 0.03125), SENSORS, false);
    assertEquals(filter > 0 ? 0.015625 : 0, fine.volts().roundingStep(), CLOSE);
    assertEquals(filter > 0 ? 0.03125 : 0, fine.amps().roundingStep(), CLOSE);
    TimeModel coarse = point.model(recording(0.25, 0.5), SENSORS, false);
    assertEquals(0.25, coarse.volts().roundingStep(), CLOSE);
    assertEquals(0.5, coarse.amps().roundingStep(), CLOSE);
    assertEquals(false, coarse.throttleUsed());
  }

  @Test
  void aStepEqualToTheNoiseCounts() {
    point.setFilters(0);
    EstimatorSettings.Sensors sensors =
        new EstimatorSettings.Sensors(0.25, 0.5, 0.005, 0.015, 0.05);
    TimeModel model = point.model(recording(0.25, 0.5), sensors, true);
    assertEquals(0.25, model.volts().roundingStep());
    assertEquals(0.5, model.amps().roundingStep());
  }

  /** Rounding to a step s has the variance s s / 12: with noise n, s s + 12 n n takes its place. */
  @Test
  void noiseBehindTheFilterIsAddedToTheRounding() {
    point.setFilters(0);
    point.set(TimingPoint.READOUT, Math.log(1 + 0.03));
    TimeModel model = point.model(recording(0.0625, 0.125), SENSORS, true);
    assertEquals(
        Math.sqrt(0.0625 * 0.0625 + 12 * 0.02 * 0.02), model.volts().roundingStep(), CLOSE);
    assertEquals(Math.sqrt(0.125 * 0.125 + 12 * 0.05 * 0.05), model.amps().roundingStep(), CLOSE);
    // also without a step, from a hundredth of 0.03 on
    assertEquals(Math.sqrt(12) * 0.02, model().volts().roundingStep(), CLOSE);
    point.set(TimingPoint.READOUT, Math.log(0.03 * 1.02));
    assertEquals(Math.sqrt(12) * 0.02 * 0.0006, model().volts().roundingStep(), CLOSE);
    point.set(TimingPoint.READOUT, Math.log(0.03 * 1.01));
    assertEquals(0, model().volts().roundingStep());
  }

  @Test
  void theRoundingIsLimitedToThatOfATimeModel() {
    point.setFilters(0);
    TimeModel model = point.model(recording(11, -12), SENSORS, true);
    assertEquals(10, model.volts().roundingStep());
    assertEquals(10, model.amps().roundingStep());
  }
}
