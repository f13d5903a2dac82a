package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * How probability and factors of a shadow, load and an uncertain time model enter the reading,
 * worked out from the median and the filter's sigma. The state is restored with given values.
 */
class MarginReportFactorsTest {

  private static final double NONE = Double.NaN;
  private static final double HOUSE = 3.5;
  private final MarginReading reading = new MarginReading();
  private MarginEstimator estimator;
  private double median;

  @BeforeEach
  void flySevenSeconds() {
    fly(TestCraft.SETTINGS);
  }

  private void fly(EstimatorSettings settings) {
    estimator = new MarginEstimator(settings);
    TestFlight flight = new TestFlight(t -> 0.8, t -> 0.5, 50, 3);
    while (flight.seconds < 7) {
      flight.next();
      estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
    }
    median = estimator.medianWatts();
  }

  /** Restores the state with these values; reports a fiftieth of a second later. */
  private void report(EditedState state) {
    assertTrue(estimator.restore(state.bytes, 0));
    estimator.coast(20_000_000L, reading);
    median = estimator.medianWatts();
  }

  private static double ramp(double value, double from, double to) {
    return Math.max(0, Math.min((value - from) / (to - from), 1));
  }

  /** The array's power at a voltage above the peak equals this one, by root finding. */
  private double voltsAbovePeak(double watts) {
    SolarArray array = TestCraft.SETTINGS.newArray();
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, estimator::state);
    TestCraft.move(array, x);
    array.solvePeak();
    return new BrentSolver(1e-10)
        .solve(200, v -> v * array.ampsAt(v) - watts, array.peakVolts(), array.openCircuitVolts());
  }

  /**
   * Motors that draw this power in steady state at a winding voltage: throttle times bus voltage.
   */
  private double motorWatts(double windingVolts) {
    double ohms = Math.exp(estimator.state(State.WINDING));
    double propulsion = Math.exp(estimator.state(State.PROPULSION));
    double emf = RotorLoad.steadyBackEmf(windingVolts, ohms, propulsion);
    return propulsion * emf * emf * windingVolts;
  }

  private void assertReport(
      double timingSd, double biasSigmas, double probability, double[] factors) {
    double filter = estimator.filterLogSd();
    double load = reading.steadyDemandWatts() / median;
    double near = 0.03 * ramp(load, 0.6, 0.85);
    double sd = Math.sqrt(filter * filter + 0.016 * 0.016 + near * near + timingSd * timingSd);
    // half a sigma, because the estimate is propagated without a reading
    double bias = (0.14 * (1 - ramp(load, 0.55, 0.75)) + biasSigmas + 0.5) * sd;
    double low = median * Math.exp(-1.9 * sd);
    double available = factors[0] * median * Math.exp(-bias);
    assertEquals(available, reading.availableWatts(), 1e-9 * median);
    double bound = Math.min(factors[1] * low, available);
    assertEquals(bound, reading.availableLowWatts(), 1e-9 * median);
    double alertLow = factors[2] * median * Math.exp(-1.6449 * sd);
    assertEquals(alertLow, estimator.alertLowWatts(), 1e-9 * median);
    double close =
        ramp(reading.steadyDemandWatts() / (Math.sqrt(factors[1]) * available), 0.8, 0.95);
    double careful = close * bound + (1 - close) * Math.min(factors[3] * low, available);
    double part = Math.max(ramp(probability, 0.05, 0.3), close);
    double within = Math.exp(-0.5 * timingSd) * ((1 - part) * available + part * careful);
    double cut = ramp(probability, 0.5, 0.8);
    double peak = reading.peakVolts();
    double volts = (1 - cut) * peak + cut * voltsAbovePeak(within);
    volts = Math.max(volts, peak + close * (estimator.busVolts() - peak));
    assertTrue(reading.throttleCeiling() < 1);
    assertEquals(within - HOUSE, motorWatts(reading.throttleCeiling() * volts), 1e-4 * median);
    double odds = 0.05 * probability / (1 - probability);
    assertEquals(odds / (1 + odds), reading.unevenLightProbability(), 1e-12);
    assertEquals(Status.SENSOR_FAULT, reading.status(), "no reading");
  }

  @ParameterizedTest
  @CsvSource({
    "0.3, 0",
    "0.56, 0.05",
    "0.62, 0.06",
    "0.7, 0.15",
    "0.74, 0.29",
    "0.8, 0.4",
    "0.9, 0.52",
    "0.65, 0.6",
    "0.4, 0.75",
    "0.84, 0.79",
    "0.86, 0.95"
  })
  void shadowsLowerEstimateBoundsAndCeilingByTheirFactors(double load, double probability) {
    double[] factors = {0.9, 0.7, 0.85, 0.75};
    report(
        new EditedState(estimator)
            .set(EditedState.STEADY_DEMAND, load * median)
            .setShadow(probability, 0.9, 0.7, 0.85, 0.75));
    assertEquals(load * median, reading.steadyDemandWatts(), 1e-3 * median);
    assertReport(0, 0, probability, factors);
  }

  @Test
  void neitherBoundNorCeilingIsAboveTheEstimate() {
    double[] factors = {0.6, 0.9, 0.95, 0.9};
    report(new EditedState(estimator).setShadow(0.4, 0.6, 0.9, 0.95, 0.9));
    assertReport(0, 0, 0.4, factors);
    assertEquals(reading.availableWatts(), reading.availableLowWatts());
  }

  /** 9 % while the time model is searched for; the ceiling is half a sigma of it lower. */
  @Test
  void anUnknownTimeModelWidensTheInterval() {
    fly(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN));
    report(new EditedState(estimator).setShadow(0.1, 0.95, 0.9, 0.92, 0.9));
    assertReport(0.09, 0, 0.1, new double[] {0.95, 0.9, 0.92, 0.9});
  }

  /** A filter of 0.05 s is half of that at which the bias is 0.18 sigmas. */
  @Test
  void filteredReadingsBiasTheEstimateLow() {
    TimeModel filtered =
        new TimeModel(
            new ChannelTiming(0.05, 0, 0, 0),
            new ChannelTiming(0.02, 0, 0, 0),
            0,
            0,
            true,
            TimeModel.Source.STATED);
    fly(TestCraft.SETTINGS.withTiming(filtered));
    EditedState state = new EditedState(estimator).setAirDeparture(0);
    report(state.setShadow(0.1, 0.95, 0.9, 0.92, 0.9));
    assertReport(0, 0.09, 0.1, new double[] {0.95, 0.9, 0.92, 0.9});
  }

  /** The mean square fades by a five-hundredth until the report. */
  @Test
  void aWindThatCoolsTheCellsBiasesTheEstimateLow() {
    EditedState state = new EditedState(estimator).setAirDeparture(4);
    report(state.setShadow(0.1, 0.95, 0.9, 0.92, 0.9));
    double excess = 2.2 * Math.sqrt(16 * (1 - 0.02 / 10)) - 3;
    assertReport(0, 0.1 * (excess - 2), 0.1, new double[] {0.95, 0.9, 0.92, 0.9});
  }

  @Test
  void theSavedStateHasTimeInEvenLightAndItsWatch() {
    EditedState state = new EditedState(estimator);
    assertEquals(7, state.get(EditedState.EVEN_SECONDS), 0.1);
    assertTrue(state.unevenStarted());
    report(state.set(EditedState.EVEN_SECONDS, 5).setShadow(0.3, 0.9, 0.8, 0.7, 0.6));
    EditedState restored = new EditedState(estimator);
    assertEquals(5, restored.get(EditedState.EVEN_SECONDS));
    for (int i = EditedState.UNEVEN; i < EditedState.EVEN_SECONDS + Double.BYTES; i++) {
      assertEquals(state.bytes[i], restored.bytes[i], "byte " + i);
    }
    report(state.set(EditedState.EVEN_SECONDS, -5));
    assertEquals(
        0, new EditedState(estimator).get(EditedState.EVEN_SECONDS), "time is not below 0");
  }
}
