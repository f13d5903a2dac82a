package org.solarmargin.jqwik;

import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;

/**
 * Arbitraries of the light on the array over a flight, in suns (1000 W/m2).
 *
 * <table>
 * <caption>Ranges, and what each number shrinks towards</caption>
 * <tr><th>number</th><th>range</th><th>mild</th><th>source</th></tr>
 * <tr><td>clear light</td><td>0.7 to 1.1 suns</td><td>1</td><td>our choice: a level array within
 * some three hours of noon in summer</td></tr>
 * <tr><td>depth of a shadow</td><td>0.2 to 0.8 of the light</td><td>0.2</td><td>0.5 to 0.8 for
 * shallow cumulus (Mol et al., JGR Atmospheres 128(5), 2023, as summarised by others); thinner
 * clouds: our choice</td></tr>
 * <tr><td>width of a shadow's edge</td><td>5 to 100 m</td><td>100 m</td><td>typically about 100 m
 * (Lappalainen and Valkealahti, Solar Energy 138, 2016), tens of metres under shallow cumulus; 5 m
 * is our choice for the hardest edge</td></tr>
 * <tr><td>speed of a shadow</td><td>3 to 20 m/s</td><td>9 m/s</td><td>mean about 9 m/s, varies
 * greatly (the same authors); the ends are our choice</td></tr>
 * <tr><td>brighter rim of a cloud</td><td>0 to 0.3 of the light</td><td>0</td><td>up to 0.5
 * (Jarvela, Lappalainen and Valkealahti, Solar Energy, 2020); 0.3 is our choice</td></tr>
 * <tr><td>slope of a fade</td><td>0.0005 to 0.1 suns/s</td><td>0.0005</td><td>EN 50530:2010, Annex
 * B: 0.5 to 100 W/m2/s</td></tr>
 * <tr><td>light after a fade</td><td>0.2 to 0.7 suns</td><td>0.7</td><td>our choice</td></tr>
 * <tr><td>cover of a broken sky</td><td>0.1 to 0.7 of the time</td><td>0.1</td><td>our
 * choice</td></tr>
 * <tr><td>length of a shadow</td><td>20 to 300 m</td><td>20 m</td><td>shadow sizes follow a power
 * law (Mol et al.); the ends are our choice</td></tr>
 * <tr><td>start of a shadow or fade</td><td>10 to 15 s</td><td>10 s</td><td>our choice: the monitor
 * has been warm for some seconds</td></tr>
 * </table>
 */
public final class Skies {

  private Skies() {}

  /**
   * Constant light.
   *
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> steady() {
    return Keys.part(List.of(Keys.fixed("sky.kind", "constant"), clear()));
  }

  /**
   * A cloud shadow that covers the whole array within 0.25 to 33 s and passes.
   *
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> suddenShading() {
    return Keys.part(
        List.of(
            Keys.fixed("sky.kind", "cloud"),
            clear(),
            depth(),
            start(),
            Keys.number("sky.length_m", 20, 300, 20, 0),
            edge(),
            speed(),
            rim()));
  }

  /**
   * Haze: the light falls linearly and stays low.
   *
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> fade() {
    return Keys.part(
        List.of(
            Keys.fixed("sky.kind", "ramps"),
            Keys.fixed("sky.repeats", "0"),
            clear(),
            Keys.number("sky.low_suns", 0.2, 0.7, 0.7, 2),
            Keys.number("sky.suns_per_s", 0.0005, 0.1, 0.0005, 4),
            start()));
  }

  /**
   * Many clouds, laid out from the flight's seed.
   *
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> brokenClouds() {
    return Keys.part(
        List.of(
            Keys.fixed("sky.kind", "broken"),
            clear(),
            depth(),
            Keys.number("sky.cover", 0.1, 0.7, 0.1, 2),
            edge(),
            speed(),
            rim()));
  }

  /**
   * Any of these; shrinks towards steady light.
   *
   * @return parts of a scenario
   */
  public static Arbitrary<ScenarioPart> any() {
    return Arbitraries.oneOf(List.of(steady(), fade(), suddenShading(), brokenClouds()));
  }

  private static Arbitrary<String> clear() {
    return Keys.number("sky.suns", 0.7, 1.1, 1, 2);
  }

  private static Arbitrary<String> depth() {
    return Keys.number("sky.depth", 0.2, 0.8, 0.2, 2);
  }

  private static Arbitrary<String> start() {
    return Keys.number("sky.start_s", 10, 15, 10, 1);
  }

  private static Arbitrary<String> edge() {
    return Keys.number("sky.edge_m", 5, 100, 100, 0);
  }

  private static Arbitrary<String> speed() {
    return Keys.number("sky.speed_m_s", 3, 20, 9, 1);
  }

  private static Arbitrary<String> rim() {
    return Keys.number("sky.enhancement", 0, 0.3, 0, 2);
  }
}
