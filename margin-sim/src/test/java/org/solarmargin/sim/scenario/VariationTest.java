package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.array.SimCell;
import org.solarmargin.sim.flight.FlightSetup;

/**
 * The random variations of trials have the stated sigmas: the standard deviation of 1000 draws is
 * within 8 % of the stated one (three and a half standard errors of 2.2 %), the mean within 0.11
 * sigmas (three and a half standard errors).
 */
class VariationTest {

  private static final int DRAWS = 1000;
  private static final double DEVIATION = 0.08;
  private static final double MEAN = 0.11;

  /** Factors are limited to two and a half sigmas, which reduces the deviation by 1.1 %. */
  private static final double LIMITED = 0.989;

  private static final double SIGMAS = 2.5;

  private static CraftProfile craft;
  private static final List<FlightSetup> DRAWN = new ArrayList<>();
  private static FlightSetup stated;

  @BeforeAll
  static void draw() throws IOException {
    craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
    String text =
        """
        plan = 10:30
        sky.kind = constant
        sky.suns = 0.9
        sensor.voltage_gain = 1.01
        sensor.current_offset_a = 0.02
        trial.light_sd = 0.05
        trial.mass_sd = 0.03
        trial.air_sd_c = 4
        trial.series_sd = 0.1
        trial.voc_coeff_sd_pct_per_c = 0.02
        """;
    SetupMaker maker = new SetupMaker(Scenario.of(new StrictProperties("s", text), craft), craft);
    stated = maker.asStated(1);
    // neighbouring seeds of java.util.Random give similar first values; trials decorrelate theirs
    // too
    Random seeds = new Random(1);
    for (int i = 0; i < DRAWS; i++) {
      DRAWN.add(maker.varied(seeds.nextLong()));
    }
  }

  private static void assertNormal(String name, double sd, ToDoubleFunction<FlightSetup> value) {
    double mean = DRAWN.stream().mapToDouble(value).average().orElseThrow();
    double square =
        DRAWN.stream().mapToDouble(s -> Math.pow(value.applyAsDouble(s) - mean, 2)).sum();
    double drawn = Math.sqrt(square / (DRAWS - 1));
    assertEquals(sd, drawn, DEVIATION * sd, "sigma of " + name);
    assertEquals(value.applyAsDouble(stated), mean, MEAN * sd, "mean of " + name);
  }

  private static void assertFactor(String name, double sd, ToDoubleFunction<FlightSetup> value) {
    assertNormal(name, LIMITED * sd, s -> Math.log(value.applyAsDouble(s)));
    double centre = value.applyAsDouble(stated);
    double most = Math.exp(SIGMAS * sd) + 1e-12;
    for (FlightSetup setup : DRAWN) {
      double factor = value.applyAsDouble(setup) / centre;
      assertTrue(factor <= most && factor >= 1 / most, name + ": factor " + factor);
    }
  }

  @Test
  void massAndLightAreFactors() {
    assertFactor("mass", 0.03, s -> s.airframe().massKilograms());
    assertFactor("light", 0.05, s -> s.sky().suns(5));
  }

  @Test
  void airTemperatureVaries() {
    assertNormal("air", 4, s -> s.air().celsius());
  }

  @Test
  void sensorErrorsHaveTheProfilesSigmas() {
    EstimatorSettings.Sensors sigma = craft.settings().sensors();
    assertNormal("voltage gain", 1.01 * sigma.voltageGainSd(), s -> s.sensors().volts().gain());
    assertNormal("current gain", sigma.currentGainSd(), s -> s.sensors().amps().gain());
    assertNormal("offset", sigma.currentOffsetSdAmps(), s -> s.sensors().amps().offset());
  }

  @Test
  void cellsVary() {
    assertFactor("series resistance", 0.1, s -> cell(s).seriesOhms());
  }

  private static SimCell cell(FlightSetup setup) {
    return setup.layout().strings().get(0).substrings().get(0).groups().get(0).cell();
  }
}
