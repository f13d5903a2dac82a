package org.solarmargin.jqwik;

import java.util.List;
import net.jqwik.api.Arbitrary;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Arbitraries of wind, gusts, temperature and height of the site.
 *
 * <table>
 * <caption>Ranges, and what each number shrinks towards</caption>
 * <tr><th>number</th><th>range</th><th>mild</th><th>source</th></tr>
 * <tr><td>mean wind</td><td>0 to 8 m/s</td><td>0</td><td>our choice: what a light multirotor is
 * flown in</td></tr>
 * <tr><td>turbulence, wind at 20 ft (W20)</td><td>0 to 7.7 m/s</td><td>0</td><td>MIL-F-8785C: light
 * turbulence is 15 kt (class from memory)</td></tr>
 * <tr><td>air temperature</td><td>15 K about the profile's, -40 to 60 degrees
 * Celsius</td><td>the profile's</td><td>our choice</td></tr>
 * <tr><td>site above sea level</td><td>0 to 2000 m</td><td>0</td><td>our choice</td></tr>
 * </table>
 */
public final class Airs {

  private static final double WEATHER_KELVIN = 15;

  private Airs() {}

  /**
   * Air with temperatures about the one stated in a profile.
   *
   * @param profile the craft
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> around(CraftProfile profile) {
    double celsius = profile.settings().thermal().ambientCelsius();
    return Keys.part(
        List.of(
            Keys.number("air.wind_m_s", 0, 8, 0, 1),
            Keys.number("air.turbulence_w20_m_s", 0, 7.7, 0, 1),
            Keys.number(
                "air.temp_c",
                Math.max(celsius - WEATHER_KELVIN, -40),
                Math.min(celsius + WEATHER_KELVIN, 60),
                celsius,
                1),
            Keys.integer("air.site_m", 0, 2000, 0)));
  }
}
