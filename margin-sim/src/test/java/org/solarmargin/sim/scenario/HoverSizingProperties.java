package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.scenario.Scenario.MotorSpec;

/** The simulator flies the profile's craft: any craft hovers as stated in its profile. */
class HoverSizingProperties {

  private static final Path STILT = Path.of("..", "examples", "stilt", "stilt.properties");

  private static final String CELL =
      """
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      thermal.ambient_c = 15
      housekeeping.power_w = 4
      """;

  /** Still air of the ISA at sea level, for which the hover point is stated. */
  private static final String STILL =
      "plan = 1:12\nair.temp_c = 15\nair.wind_m_s = 0\nair.turbulence_w20_m_s = 0\n";

  private static final double CELL_WATTS = 5.70 * 0.574;

  /** Means over the second half of a flight, in steady state. */
  private static final class Mean {
    private double watts;
    private double windingVolts;
    private int count;
  }

  private static Mean fly(CraftProfile craft, String more) throws IOException {
    Scenario scenario = Scenario.of(new StrictProperties("s", STILL + more), craft);
    Mean mean = new Mean();
    new Flight(new SetupMaker(scenario, craft).asStated(1), 1)
        .fly(
            sample -> {
              if (sample.seconds > 6) {
                mean.watts += sample.demandWatts;
                mean.windingVolts += sample.throttle * sample.trueVolts;
                mean.count++;
              }
              return 1;
            });
    mean.watts /= mean.count;
    mean.windingVolts /= mean.count;
    return mean;
  }

  @Property(tries = 25)
  void everyCraftHoversAtItsStatedPowerAndWindingVoltage(
      @ForAll @IntRange(min = 3, max = 8) int rotors,
      @ForAll @IntRange(min = 30, max = 90) int cells,
      @ForAll @IntRange(min = 1, max = 3) int strings,
      @ForAll @DoubleRange(min = 0.4, max = 0.7) double share,
      @ForAll @DoubleRange(min = 0.5, max = 0.7) double merit,
      @ForAll @DoubleRange(min = 0.3, max = 0.7) double diameter,
      @ForAll @DoubleRange(min = 0.35, max = 0.65) double throttle)
      throws IOException {
    double watts = share * cells * strings * CELL_WATTS;
    double volts = 0.6 * cells;
    // mass by momentum theory from the rotor power, after the usual losses of the motors
    double shaft = (watts - 4) * 0.93 * 0.94 * 0.93 / rotors;
    double disc = Math.PI * diameter * diameter / 4;
    double mass = rotors * Math.cbrt(2 * 1.225 * disc * Math.pow(merit * shaft, 2)) / 9.80665;
    CraftProfile craft =
        CraftProfile.parse(
            "craft",
            CELL
                + String.format(
                    Locale.ROOT,
                    """
                    craft.mass_kg = %.6f
                    array.series_cells = %d
                    array.parallel_strings = %d
                    rotor.count = %d
                    rotor.diameter_m = %.6f
                    rotor.hover_throttle = %.6f
                    rotor.hover_power_w = %.6f
                    rotor.hover_bus_v = %.6f
                    """,
                    mass,
                    cells,
                    strings,
                    rotors,
                    diameter,
                    throttle,
                    watts,
                    volts));
    assertEquals(merit, HoverSizing.of(craft, MOTOR).figureOfMerit(), 1e-5);
    Mean mean = fly(craft, "");
    assertEquals(watts, mean.watts, 0.02 * watts, "power");
    assertEquals(throttle * volts, mean.windingVolts, 0.02 * throttle * volts, "winding voltage");
  }

  private static final MotorSpec MOTOR = new MotorSpec(0.06, 0.07, 0.93, 0.12);

  private static CraftProfile craft(String more) {
    return CraftProfile.parse(
        "craft",
        CELL
            + "array.series_cells = 48\narray.parallel_strings = 1\nrotor.hover_throttle = 0.5\n"
            + "rotor.hover_power_w = 83\nrotor.hover_bus_v = 29\n"
            + more);
  }

  @Example
  void valuesNotStatedFollowFromTheRest() throws IOException {
    for (String given :
        new String[] {
          "", "craft.mass_kg = 1.6\n", "rotor.diameter_m = 0.4\n", "craft.mass_kg = 2.2\n"
        }) {
      assertEquals(83, fly(craft(given), "").watts, 0.02 * 83, given);
    }
  }

  @Example
  void aScenarioMayFlyOtherPropellers() throws IOException {
    CraftProfile stilt = CraftProfile.read(STILT);
    double stated = stilt.settings().rotor().hoverWatts();
    double house = stilt.settings().rotor().housekeepingWatts();
    HoverSizing sizing = HoverSizing.of(stilt, MOTOR);
    assertEquals(stated, fly(stilt, "").watts, 0.02 * stated);
    double worse = house + (stated - house) * sizing.figureOfMerit() / 0.55;
    assertEquals(worse, fly(stilt, "craft.figure_of_merit = 0.55\n").watts, 0.02 * worse);
  }

  /** A guessed hover power says nothing of the propellers: they are taken as usual ones. */
  @Example
  void withoutAHoverPointPropellersAreUsual() {
    String measured = "craft.mass_kg = 1.6\nrotor.diameter_m = 0.5588\n";
    CraftProfile guessed =
        CraftProfile.parse(
            "craft", CELL + "array.series_cells = 48\narray.parallel_strings = 1\n" + measured);
    HoverSizing sizing = HoverSizing.of(guessed, MOTOR);
    assertEquals(new HoverSizing(1.6, 0.5588, HoverSizing.USUAL_FIGURE_OF_MERIT), sizing);
  }

  /** A craft without a mass flies with the one that its hover power carries, and that is said. */
  @Example
  void anAssumedMassIsSaid() throws IOException {
    CraftProfile weightless = craft("rotor.diameter_m = 0.4\n");
    Scenario scenario = Scenario.of(new StrictProperties("s", STILL), weightless);
    // momentum theory as above: 79 W of motors, usual losses, figure of merit 0.62, discs of 0.4 m
    double shaft = 79 * 0.93 * 0.94 * 0.93 / 4;
    double disc = Math.PI * 0.04;
    double mass = 4 * Math.cbrt(2 * 1.225 * disc * Math.pow(0.62 * shaft, 2)) / 9.80665;
    assertEquals(
        String.format(
            Locale.ROOT,
            "Assumed: a mass of %.3g kg with rotors of 0.400 m, because the profile has no"
                + " craft.mass_kg.",
            mass),
        new SetupMaker(scenario, weightless).assumption().orElseThrow());
    CraftProfile weighed = craft("craft.mass_kg = 1.6\n");
    assertEquals(Optional.empty(), new SetupMaker(scenario, weighed).assumption());
  }
}
