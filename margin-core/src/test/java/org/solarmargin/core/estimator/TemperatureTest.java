package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.cell.CellParameters;

/** Cells that are warmer or cooler than according to profile, thermometer or coefficient. */
class TemperatureTest {

  private static final double NO_THERMOMETER = Double.NaN;
  private static final int HERTZ = 50;

  private double held;
  private double optimistic;
  private double sigma;
  private double leftOut;
  private double highest;

  private static TestFlight flight(double throttle, DoubleUnaryOperator air, CellParameters cell) {
    return new TestFlight(t -> 0.9, t -> throttle, air, cell, HERTZ, 11);
  }

  /** Flies for two minutes and evaluates from the eighth second on. */
  private void fly(EstimatorSettings settings, TestFlight flight, DoubleUnaryOperator thermometer) {
    MarginEstimator estimator = new MarginEstimator(settings);
    MarginReading reading = new MarginReading();
    int n = 0;
    held = 0;
    optimistic = 0;
    sigma = 0;
    leftOut = 0;
    highest = 0;
    while (flight.seconds < 120) {
      flight.next();
      double celsius = thermometer.applyAsDouble(flight.cellCelsius);
      estimator.update(
          1.0 / HERTZ, flight.busVolts, flight.busAmps, flight.throttle, celsius, reading);
      if (flight.seconds > 8) {
        n++;
        held += reading.availableLowWatts() <= flight.availableWatts ? 1 : 0;
        optimistic += reading.availableWatts() > 1.05 * flight.availableWatts ? 1 : 0;
        highest = Math.max(highest, reading.availableWatts() / flight.availableWatts);
        sigma += estimator.filterLogSd();
        leftOut += reading.thermometerLeftOut() ? 1 : 0;
      }
    }
    held /= n;
    optimistic /= n;
    sigma /= n;
    leftOut /= n;
  }

  @ParameterizedTest
  @ValueSource(doubles = {8, 20, 40, 60})
  void gustyCoolingWindIsTracked(double period) {
    DoubleUnaryOperator gusts = t -> 8 * Math.sin(2 * Math.PI * t / period);
    fly(TestCraft.SETTINGS, flight(0.5, gusts, TestCraft.SETTINGS.cell()), t -> NO_THERMOMETER);
    assertTrue(held >= 0.95, "bound held in " + held);
    assertTrue(optimistic <= 0.02, "over 5 % too much in " + optimistic);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-15, -10, -3, 0, 3, 8, 10, 15})
  void theBoundHoldsWithAThermometerOffset(double offset) {
    fly(
        TestCraft.SETTINGS,
        flight(0.5, t -> 0, TestCraft.SETTINGS.cell()),
        celsius -> celsius + offset);
    assertTrue(held >= 0.95, "bound held in " + held);
    assertTrue(optimistic <= 0.05, "over 5 % too much in " + optimistic);
    if (Math.abs(offset) <= 3) {
      assertEquals(0, leftOut, "a usual offset is a state");
    }
    if (Math.abs(offset) >= 15) {
      assertTrue(leftOut > 0.5, "left out in " + leftOut);
    }
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 85})
  void aConstantThermometerIsNotUsed(double celsius) {
    fly(TestCraft.SETTINGS, flight(0.5, t -> 0, TestCraft.SETTINGS.cell()), t -> celsius);
    assertTrue(leftOut > 0.99, "left out in " + leftOut);
    assertTrue(held >= 0.95, "bound held in " + held);
    assertTrue(optimistic <= 0.05, "over 5 % too much in " + optimistic);
  }

  /** A loose plug, or a sensor that restarts: the mean of the readings follows the estimate. */
  @ParameterizedTest
  @ValueSource(doubles = {20, 40})
  void aThermometerThatIsWrongInEverySecondReadingIsNotUsed(double error) {
    int[] readings = {0};
    fly(
        TestCraft.SETTINGS,
        flight(0.5, t -> 0, TestCraft.SETTINGS.cell()),
        celsius -> celsius + (readings[0]++ % 2 == 0 ? 0 : error));
    assertTrue(leftOut > 0.9, "left out in " + leftOut);
    assertTrue(held >= 0.95, "bound held in " + held);
    assertTrue(optimistic <= 0.05, "over 5 % too much in " + optimistic);
  }

  /**
   * A slow drift is not noticed, because warmer cells under more light have nearly the same curve
   * far from the knee: the interval must contain the truth all the same.
   */
  @ParameterizedTest
  @CsvSource({"0.1, 1.1", "0.3, 1.85", "-0.3, 1.1"})
  void theBoundHoldsWhileAThermometerDrifts(double kelvinPerSecond, double mostTooHigh) {
    double[] readings = {0};
    fly(
        TestCraft.SETTINGS,
        flight(0.42, t -> 0, TestCraft.SETTINGS.cell()),
        celsius -> {
          double seconds = readings[0]++ / HERTZ - 20;
          return celsius + kelvinPerSecond * Math.min(Math.max(seconds, 0), 60);
        });
    assertTrue(held >= 0.95, "bound held in " + held);
    assertTrue(highest <= mostTooHigh, "estimate over truth up to " + highest);
  }

  @Test
  void aRecoveredThermometerIsUsedAgain() {
    double[] readings = {0};
    fly(
        TestCraft.SETTINGS,
        flight(0.5, t -> 0, TestCraft.SETTINGS.cell()),
        celsius -> celsius + (readings[0]++ < 40 * HERTZ ? 40 : 0));
    assertTrue(leftOut > 0.3 && leftOut < 0.5, "left out in " + leftOut);
  }

  /** Deviations of two and a half sigmas with an unchanged curve at the bench temperature. */
  @ParameterizedTest
  @ValueSource(doubles = {-1.25e-3, 1.25e-3})
  void theBoundHoldsWithAnotherCoefficient(double off) {
    CellParameters cell = TestCraft.SETTINGS.cell();
    CellParameters other =
        cell.withVocTempCoeff(cell.vocTempCoeffPerKelvin() + off, cell.benchCelsius());
    fly(withCoefficientSd(0.0005), flight(0.46, t -> 0, other), t -> NO_THERMOMETER);
    assertTrue(held >= 0.95, "bound held in " + held);
  }

  @Test
  void uncertaintyOfTheCoefficientWidensTheIntervalFarFromTheBench() {
    CellParameters cell = TestCraft.SETTINGS.cell();
    EstimatorSettings exact = withCoefficientSd(0);
    EstimatorSettings uncertain = withCoefficientSd(0.001);
    fly(exact, flight(0.46, t -> 0, cell), t -> NO_THERMOMETER);
    double without = sigma;
    fly(uncertain, flight(0.46, t -> 0, cell), t -> NO_THERMOMETER);
    assertTrue(sigma > 1.1 * without, sigma + " with, " + without + " without");
  }

  private static EstimatorSettings withCoefficientSd(double coefficientSd) {
    EstimatorSettings s = TestCraft.SETTINGS;
    EstimatorSettings.CellSpread spread =
        new EstimatorSettings.CellSpread(
            s.cellSpread().seriesLogSd(), s.cellSpread().idealityLogSd(), coefficientSd);
    return new EstimatorSettings(
        s.cell(),
        spread,
        s.seriesCells(),
        s.parallelStrings(),
        s.thermal(),
        s.rotor(),
        s.sensors(),
        s.timing(),
        s.shadowShare());
  }
}
