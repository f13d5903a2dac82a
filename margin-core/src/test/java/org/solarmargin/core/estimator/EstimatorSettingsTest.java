package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.DoubleFunction;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;
import org.solarmargin.core.estimator.EstimatorSettings.Sensors;
import org.solarmargin.core.estimator.EstimatorSettings.Thermal;
import org.solarmargin.core.timing.TimeModel;

/** The stated range of each setting: its ends are allowed, the next numbers beyond are not. */
class EstimatorSettingsTest {

  private static final EstimatorSettings CRAFT = TestCraft.SETTINGS;

  private static Arguments row(String name, double low, double high, DoubleFunction<?> create) {
    return Arguments.of(name, low, high, create);
  }

  private static EstimatorSettings withShare(double share) {
    return new EstimatorSettings(
        CRAFT.cell(),
        CRAFT.cellSpread(),
        48,
        1,
        CRAFT.thermal(),
        CRAFT.rotor(),
        CRAFT.sensors(),
        CRAFT.timing(),
        share);
  }

  /** Ranges as the parameters' descriptions state them, where they do. */
  static Stream<Arguments> ranges() {
    return Stream.of(
        row("shadowShare", 0, 0.9, EstimatorSettingsTest::withShare),
        row("seriesLogSd", 0, 1, v -> new CellSpread(v, 0.02, 0.0002)),
        row("idealityLogSd", 0, 1, v -> new CellSpread(0.1, v, 0.0002)),
        row("vocCoeffSdPerKelvin", 0, 0.005, v -> new CellSpread(0.1, 0.02, v)),
        row("ambientCelsius", -60, 60, v -> new Thermal(v, 25, 15)),
        row("sunRiseKelvin", 0, 90, v -> new Thermal(22, v, 15)),
        row("timeConstantSeconds", 0.5, 3600, v -> new Thermal(22, 25, v)),
        row("hoverThrottle", 0.05, 1, v -> new Rotor(v, 78, 29, true, 3.5)),
        row("hoverWatts", 3.5 + 1e-6, 1e6, v -> new Rotor(0.5, v, 29, true, 3.5)),
        row("hoverBusVolts", 1e-3, 1e4, v -> new Rotor(0.5, 78, v, true, 3.5)),
        row("housekeepingWatts", 0, 1e5, v -> new Rotor(0.5, 1e6, 29, true, v)),
        row("voltageNoiseVolts", 1e-6, 100, v -> new Sensors(v, 0.05, 0.005, 0.015, 0.05)),
        row("currentNoiseAmps", 1e-6, 100, v -> new Sensors(0.02, v, 0.005, 0.015, 0.05)),
        row("voltageGainSd", 0, 0.5, v -> new Sensors(0.02, 0.05, v, 0.015, 0.05)),
        row("currentGainSd", 0, 0.5, v -> new Sensors(0.02, 0.05, 0.005, v, 0.05)),
        row("currentOffsetSdAmps", 0, 100, v -> new Sensors(0.02, 0.05, 0.005, 0.015, v)));
  }

  @ParameterizedTest
  @MethodSource("ranges")
  void theEndsOfARangeAreAllowedAndNothingBeyond(
      String name, double low, double high, DoubleFunction<?> create) {
    assertDoesNotThrow(() -> create.apply(low));
    assertDoesNotThrow(() -> create.apply(high));
    for (double value : new double[] {Math.nextDown(low), Math.nextUp(high), Double.NaN}) {
      IllegalArgumentException refused =
          assertThrows(IllegalArgumentException.class, () -> create.apply(value));
      String message = refused.getMessage();
      assertTrue(message.startsWith(name + " must be in [" + low + ", " + high + "]"), message);
      assertTrue(message.endsWith(": " + value), message);
    }
  }

  @Test
  void onePartIsExchangedAndTheOthersStay() {
    EstimatorSettings settings = withShare(0.4);
    Thermal colder = new Thermal(-5, 20, 10);
    EstimatorSettings winter = settings.withThermal(colder);
    assertSame(colder, winter.thermal());
    assertEquals(settings, winter.withThermal(settings.thermal()));
    EstimatorSettings unknown = settings.withTiming(TimeModel.UNKNOWN);
    assertSame(TimeModel.UNKNOWN, unknown.timing());
    assertNotEquals(settings, unknown);
    assertEquals(settings, unknown.withTiming(settings.timing()));
    assertEquals(0.2, CRAFT.shadowShare(), "unless it is stated");
  }

  @Test
  void eachArrayIsItsOwn() {
    SolarArray array = CRAFT.newArray();
    assertEquals(48, array.seriesCells());
    assertEquals(1, array.parallelStrings());
    array.set(0.1, 80);
    // at standard conditions the data sheet has 0.683 V of each cell
    assertEquals(48 * 0.683, CRAFT.newArray().openCircuitVolts(), 0.01);
  }
}
