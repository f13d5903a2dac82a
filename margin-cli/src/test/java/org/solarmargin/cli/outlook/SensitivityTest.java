package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Compares the effects of a gram, a watt, a kelvin and a percent of light with analytical
 * derivatives.
 */
class SensitivityTest {

  private static DayQuestion stiltAtNoon(List<String> profile) {
    CraftProfile craft = CraftProfile.parse("test", String.join("\n", profile));
    return new DayQuestion(
        craft,
        new Place(50, 0, 0),
        new Weather(15, 15, 0, 0),
        new Attitude(0, Double.NaN),
        LocalDate.of(2026, 6, 21),
        ZoneOffset.UTC,
        Duration.ofMinutes(10));
  }

  private static Moment best(DayQuestion asked) {
    return Moment.best(asked.moments()).orElseThrow();
  }

  /** Hover power is housekeeping plus motor power, which is proportional to the mass to the 3/2. */
  @Test
  void effectsOfAGramAndAWattAgreeWithTheDerivatives() throws IOException {
    List<String> lines = Files.readAllLines(Cli.STILT);
    DayQuestion asked = stiltAtNoon(lines);
    Moment m = best(asked);
    List<Sensitivity.Effect> effects = Sensitivity.of(asked, lines);
    double perWatt = 100 * m.availableWatts() / (m.demandWatts() * m.demandWatts());
    double motors = m.demandWatts() - 3.5;
    double perGram = perWatt * 1.5 * motors / 1.6 * 0.001;
    assertEquals("a gram less", effects.get(0).words());
    assertEquals(perGram, effects.get(0).points(), 0.002 * perGram);
    assertEquals(1, effects.get(0).grams());
    // the effect of a whole watt is slightly nonlinear: the slope at half a watt is its mean
    assertEquals(perWatt, effects.get(1).points(), 0.02 * perWatt);
    assertEquals(perWatt / perGram, effects.get(1).grams(), 0.02 * perWatt / perGram);
  }

  /**
   * Power is nearly proportional to the light. A kelvin reduces it by 0.3 to 0.5 % (Sandia's
   * database of back contact modules: -0.354 to -0.445 % a kelvin at 25 degrees, relatively more
   * when hot), and thinner air increases the motors' power by half of 1/288.
   */
  @Test
  void effectsOfAKelvinAndAPercentOfLightArePlausible() throws IOException {
    List<String> lines = Files.readAllLines(Cli.STILT);
    DayQuestion asked = stiltAtNoon(lines);
    double ratio = 100 + best(asked).marginPercent();
    List<Sensitivity.Effect> effects = Sensitivity.of(asked, lines);
    double kelvin = effects.get(2).points() / ratio;
    assertTrue(kelvin > 0.003 + 0.5 / 288 && kelvin < 0.005 + 0.5 / 288, kelvin + " of the power");
    double light = effects.get(3).points() / ratio;
    assertTrue(light > 0.0085 && light < 0.0105, light + " of the power for a percent");
  }

  @Test
  void withoutAMassNoGramsAreGiven() throws IOException {
    List<String> lines =
        Files.readAllLines(Cli.STILT).stream().filter(l -> !l.startsWith("craft.mass")).toList();
    List<Sensitivity.Effect> effects = Sensitivity.of(stiltAtNoon(lines), lines);
    assertEquals(3, effects.size());
    assertTrue(effects.stream().allMatch(w -> Double.isNaN(w.grams())));
  }
}
