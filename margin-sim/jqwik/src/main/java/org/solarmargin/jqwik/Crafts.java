package org.solarmargin.jqwik;

import java.util.List;
import java.util.Locale;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Arbitraries of crafts: the one of a given profile with its uncertainties, or any.
 *
 * <p>{@link #asBuilt} deviates from the profile within its stated uncertainty, by at most two of
 * its sigmas: a property that fails there fails although the profile is valid.
 *
 * <table>
 * <caption>Ranges of asBuilt, and what each number shrinks towards</caption>
 * <tr><th>number</th><th>range</th><th>mild</th><th>source</th></tr>
 * <tr><td>mass over the profile's</td><td>0.95 to 1.05</td><td>1</td><td>our choice: payload and
 * scales</td></tr>
 * <tr><td>photocurrent over the profile's</td><td>0.95 to 1</td><td>1</td><td>our choice: dust and
 * age</td></tr>
 * <tr><td>series resistance over the profile's</td><td>0.85 to 1.2</td><td>1</td><td>two sigmas of
 * 8 %, the spread of trials; above by solder joints: our choice</td></tr>
 * <tr><td>gains and offset of the sensors</td><td>two sigmas of the profile's</td><td>exact</td>
 * <td>the profile</td></tr>
 * <tr><td>copper's share of the winding voltage in hover</td><td>0.02 to
 * 0.12</td><td>0.06</td><td>common practice, no source</td></tr>
 * <tr><td>lag of the rotors</td><td>0.05 to 0.25 s</td><td>0.12 s</td><td>common practice, no
 * source</td></tr>
 * </table>
 */
public final class Crafts {

  private static final double SIGMAS = 2;

  private Crafts() {}

  /**
   * The profile's craft with deviations that the simulator flies and the monitor does not know.
   *
   * @param profile the craft
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> asBuilt(CraftProfile profile) {
    EstimatorSettings.Sensors sensors = profile.settings().sensors();
    double volts = SIGMAS * sensors.voltageGainSd();
    double amps = SIGMAS * sensors.currentGainSd();
    double offset = SIGMAS * sensors.currentOffsetSdAmps();
    return Keys.part(
        List.of(
            Keys.number("craft.mass_factor", 0.95, 1.05, 1, 3),
            Keys.number("array.all_photocurrent", 0.95, 1, 1, 3),
            Keys.number("array.all_series", 0.85, 1.2, 1, 2),
            Keys.number("sensor.voltage_gain", 1 - volts, 1 + volts, 1, 4),
            Keys.number("sensor.current_gain", 1 - amps, 1 + amps, 1, 4),
            Keys.number("sensor.current_offset_a", -offset, offset, 0, 3),
            Keys.number("craft.copper_share", 0.02, 0.12, 0.06, 3),
            Keys.number("craft.motor_lag_s", 0.05, 0.25, 0.12, 3)));
  }

  /**
   * Profiles of crafts that can fly: 24 to 96 back-contact cells in one to three strings, cells of
   * 3 to 7 A (half cells to full 5-inch cells), three to eight rotors of 0.25 to 0.7 m, and a hover
   * power of 35 to 60 % of the array's power in one sun at 25 degrees Celsius: with more, warm
   * cells cannot supply the rotors' inrush at take-off. The mass follows from that power by
   * momentum theory, as in the simulator for a profile without a mass. The name states the drawn
   * values. Shrinks towards 24 cells of 6 A, four rotors of 0.55 m and a hover power of 35 %. All
   * ranges are our choice.
   *
   * @return profiles
   */
  public static Arbitrary<CraftProfile> profiles() {
    return Combinators.combine(
            Arbitraries.integers().between(24, 96),
            Arbitraries.integers().between(1, 3),
            Arbitraries.doubles().between(3, 7).ofScale(2).shrinkTowards(6.0),
            Arbitraries.integers().between(3, 8).shrinkTowards(4),
            Arbitraries.doubles().between(0.25, 0.7).ofScale(2).shrinkTowards(0.55),
            Arbitraries.doubles().between(0.4, 0.65).ofScale(2).shrinkTowards(0.5),
            Arbitraries.doubles().between(0.35, 0.6).ofScale(2).shrinkTowards(0.35))
        .as(Crafts::profile);
  }

  private static CraftProfile profile(
      int cells,
      int strings,
      double amps,
      int rotors,
      double diameter,
      double throttle,
      double load) {
    double peakAmps = 0.947 * amps;
    double watts = load * cells * strings * 0.574 * peakAmps;
    String name =
        String.format(
            Locale.ROOT,
            "%d x %d cells of %.2f A, %d rotors of %.2f m, hover of %.1f W at %.2f",
            strings,
            cells,
            amps,
            rotors,
            diameter,
            watts,
            throttle);
    String text =
        String.format(
            Locale.ROOT,
            """
            craft.name = %s
            array.series_cells = %d
            array.parallel_strings = %d
            cell.isc_a = %.3f
            cell.voc_v = 0.683
            cell.impp_a = %.3f
            cell.vmpp_v = 0.574
            rotor.count = %d
            rotor.diameter_m = %.3f
            rotor.hover_throttle = %.2f
            rotor.hover_power_w = %.2f
            rotor.hover_bus_v = %.2f
            """,
            name,
            cells,
            strings,
            amps,
            peakAmps,
            rotors,
            diameter,
            throttle,
            watts,
            0.6 * cells);
    return CraftProfile.parse("drawn craft", text);
  }
}
