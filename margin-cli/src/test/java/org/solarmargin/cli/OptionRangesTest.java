package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A value just beyond either end of its range is refused with the option, the range and itself. */
class OptionRangesTest {

  private static final String SWEEP = Cli.EXAMPLES.resolve("bench/array-sweep.csv").toString();
  private static final String STAND = Cli.EXAMPLES.resolve("bench/rotor-stand.csv").toString();
  private static final String FLIGHT = Cli.EXAMPLES.resolve("flights/slow-fade.csv").toString();

  private static final String SHEET = " --isc 6.02 --voc 0.683 --imp 5.7 --vmp 0.574";
  private static final String PLACE = " --at 53.7,7.7 --date 2026-06-21";
  private static final String CRAFT = " --craft " + Cli.STILT;

  /** Verbs with all that they need, in good order. */
  private static final Map<String, String> GOOD =
      Map.of(
          "size", "size --mass-kg 1.05 --diameter-m 0.5588" + SHEET + PLACE,
          "array", "fit array " + SWEEP + " --series 48",
          "cell", "fit cell" + SHEET,
          "rotor", "fit rotor " + STAND + CRAFT,
          "resistor", "fit resistor" + CRAFT,
          "tune", "tune " + FLIGHT + CRAFT,
          "replay", "replay " + FLIGHT + CRAFT,
          "outlook", "outlook" + CRAFT + PLACE);

  private static Cli run(String verb, String option, String value) {
    Map<String, String> options = new LinkedHashMap<>();
    List<Object> words = new ArrayList<>();
    String[] good = GOOD.get(verb).split(" ", -1);
    for (int i = 0; i < good.length; i++) {
      if (good[i].startsWith("--")) {
        options.put(good[i], good[++i]);
      } else {
        words.add(good[i]);
      }
    }
    options.put(option, value);
    options.forEach((name, text) -> words.add(name + "=" + text));
    return Cli.run(words.toArray());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "size | --mass-kg | 0.01 100 | --mass-kg must be in (0.01, 100) kg",
        "size | --rotors | 0 65 | --rotors must be in [1, 64]",
        "size | --diameter-m | 0.049 5.1 | --diameter-m must be in [0.05, 5] m",
        "size | --merit | 0.2 0.9 | --merit must be in (0.2, 0.9)",
        "size | --drive | 0.3 1.01 | --drive must be in (0.3, 1]",
        "size | --mismatch | -0.1 50 | --mismatch must be in [0, 50) percent",
        "size | --cell-kg | -0.001 1 | --cell-kg must be in [0, 1) kg",
        "size | --frame-kg | -0.001 1 | --frame-kg must be in [0, 1)",
        "size | --most-strings | 0 51 | --most-strings must be in [1, 50]",
        "size | --most-v | 1 1001 | --most-v must be in (1, 1000] V",
        "size | --reserve | -1 501 | --reserve must be in [0, 500] percent",
        "size | --house-w | -1 1000 | --house-w must be in [0, 1000) W",
        "array | --series | 0 10001 | --series and --parallel must be in [1, 10000]",
        "array | --parallel | 0 10001 | --series and --parallel must be in [1, 10000]",
        "array | --light-drift | -1 51 | --light-drift must be in [0, 50] percent: ",
        "array | --current-noise | 0 -1 | --current-noise must be > 0 A: ",
        "array | --isc-coeff | -1.1 1.1 | --isc-coeff must be within +-1 percent per C: ",
        "array | --voc-coeff | -1.1 -0.049 | --voc-coeff must be in [-1, -0.05] percent per C: ",
        "array | --voc-coeff-sd | -0.1 0.6 | --voc-coeff-sd must be in [0, 0.5] percent per C: ",
        "array | --irradiance | 9 2501 | --irradiance must be in [10, 2500] W/m2: ",
        "array | --cell-c | -51 131 | --cell-c must be in [-50, 130] C: ",
        "array | --table | /tmp/t.csv | --table needs several sweeps",
        "cell | --series | 0 10001 | --series must be in [1, 10000]: ",
        "cell | --parallel | 0 10001 | --parallel must be in [1, 10000]: ",
        "cell | --irradiance | 9 2501 | --irradiance must be in [10, 2500] W/m2: ",
        "cell | --vmp | 0.7 | data sheet: ",
        "rotor | --mass-kg | 0.01 10000 | --mass-kg, or craft.mass_kg in the profile, must be in",
        "rotor | --motors | 0 65 | --motors must be in [1, 64]: ",
        "rotor | --air-c | -60 60 | --air-c must be in [-60, 60] C: ",
        "rotor | --altitude | -501 9001 | --altitude must be in [-500, 9000] m: ",
        "rotor | --at-altitude | -501 9001 | --at-altitude must be in [-500, 9000] m: ",
        "resistor | --irradiance | 9 2501 | --irradiance must be in [10, 2500] W/m2: ",
        "resistor | --cell-c | -51 131 | --cell-c must be in [-50, 130] C: ",
        "resistor | --ohms | 0 1e6 | --ohms must be in (0, 1000000) ohm: ",
        "tune | --lead | -1 601 | --lead must be in [0, 600] s and --nuisance in [0, 10000]: ",
        "tune | --nuisance | -1 10001 | --lead must be in [0, 600] s and --nuisance in [0, 10000]",
        "tune | --threads | 0 1025 | --threads must be in [1, 1024]: ",
        "replay | --irradiance | 9 2001 | --irradiance must be in [10, 2000] W/m2: ",
        "outlook | --at | 53.7 91,0 -91,0 0,181 0,-181 0,0,6001 0,0,-401 1,2,3,4 a,b | --at must be"
            + " LAT,LON[,ALT] in [-90, 90], [-180, 180], [-400, 6000]: ",
        "outlook | --zone | Atlantis | --zone must be like Europe/Berlin or +02:00: ",
        "outlook | --air-c | -41 61 20,10 1,2,3 | --air-c must be T or LOW,HIGH in [-40, 60] C: ",
        "outlook | --wind | -1 31 | --wind must be in [0, 30] m/s and --haze in [0, 100) percent",
        "outlook | --haze | -1 100 | --wind must be in [0, 30] m/s and --haze in [0, 100) percent",
        "outlook | --tilt | -1 91 | --tilt must be in [0, 90] degrees: ",
        "outlook | --heading | -1 361 up | --heading must be sun or in [0, 360] degrees: ",
        "outlook | --start | 2026-06-21T12:00:00Z | --start needs --log: ",
      })
  void aValueBeyondItsRangeIsRefused(String verb, String option, String values, String rule) {
    for (String value : values.split(" ", -1)) {
      Cli run = run(verb, option, value);
      String said = option + " " + value + ": " + run.err;
      assertEquals(2, run.status, said);
      assertTrue(run.err.startsWith(rule), said);
      assertEquals("", run.out, said);
    }
  }
}
