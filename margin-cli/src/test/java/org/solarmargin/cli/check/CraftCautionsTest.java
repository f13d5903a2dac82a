package org.solarmargin.cli.check;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.profile.CraftProfile;

/** What check says of a craft that is not all stated, or not possible. */
class CraftCautionsTest {

  private static final String CELLS =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      """;

  private static final String HOVER =
      "rotor.hover_throttle = 0.5\nrotor.hover_power_w = 83\nrotor.hover_bus_v = 29\n";

  @TempDir private Path folder;

  private static List<String> said(String more) {
    return CraftCautions.of(CraftProfile.parse("craft", CELLS + more));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "''; craft.mass_kg rotor.diameter_m ",
        "craft.mass_kg = 1.6; rotor.diameter_m ",
        "rotor.diameter_m = 0.5; 'craft.mass_kg '"
      })
  void whatIsNotStatedIsMissing(String stated, String missing) {
    assertEquals(
        "Missing: " + missing.strip() + " - simulate and trial use assumed values",
        said(stated + "\n" + HOVER).get(0));
  }

  @Test
  void aHoverThatIsNotStatedIsLearned() {
    List<String> said = said("craft.mass_kg = 1.6\nrotor.diameter_m = 0.5588\n");
    assertEquals(
        "Missing: rotor.hover_throttle, rotor.hover_power_w, rotor.hover_bus_v - they are learned in flight;"
            + " measure them with margin fit rotor",
        said.get(0));
    assertTrue(said.get(1).startsWith("Hover takes "), said.get(1));
  }

  /**
   * Momentum theory (Leishman, Principles of Helicopter Aerodynamics, section 2.2): 0.4 kg on a
   * disc of 0.245 m2 take 10 W at least; of 83 W less 3.5 W, 0.81 reach the rotors, so that 1.6 kg
   * mean a figure of merit of 0.62.
   */
  @ParameterizedTest
  @ValueSource(doubles = {1.6, 1.15, 1.8, 2.4, 1.05})
  void aFigureOfMeritThatNoPropellerHasIsContradictory(double kilograms) {
    List<String> said =
        said("craft.mass_kg = " + kilograms + "\nrotor.diameter_m = 0.5588\n" + HOVER);
    double newtons = kilograms * 9.80665 / 4;
    double ideal = 4 * newtons * Math.sqrt(newtons / (2 * 1.225 * Math.PI * 0.5588 * 0.5588 / 4));
    double share = ideal / (0.81 * 79.5);
    boolean contradictory = share > 0.8 || share < 0.35;
    assertEquals(contradictory, said.get(0).startsWith("Contradictory: "), said.toString());
    if (contradictory) {
      assertTrue(said.get(0).contains(String.format("merit of %.2f", share)), said.get(0));
    }
  }

  private static List<String> hovering(String watts, String volts) {
    return said(
        "rotor.diameter_m = 0.5588\nrotor.hover_throttle = 0.5\nrotor.hover_power_w = "
            + (watts + "\nrotor.hover_bus_v = " + volts + "\n"));
  }

  /**
   * At 25 degrees C the knee is that of the data sheet, 48 x 0.574 V = 27.55 V and 157.05 W; in
   * full sun, at 50 degrees C, the voltage is lower by about 25 K x 0.33 % of Voc, or 2.7 V, and
   * the power in proportion.
   */
  @Test
  void aHoverThatTheArrayCannotHoldIsContradictory() {
    String low = hovering("83", "20").get(1);
    assertTrue(
        low.startsWith("Contradictory: rotor.hover_bus_v of 20.00 V is below the array's knee"),
        low);
    double knee = number(low, "knee, ([0-9.]+) V in full sun with cells at 50 C");
    assertEquals(27.55 - 2.7, knee, 0.3);
    // the same voltage across the windings in any light
    double volts = number(low, "hover_bus_v = ([0-9.]+),");
    assertTrue(volts > knee && volts < 48 * 0.683, low);
    assertEquals(0.5 * 20, volts * number(low, "hover_throttle = ([0-9.]+)"), 0.03);
    assertTrue(hovering("83", "" + 0.975 * knee).get(1).startsWith("Contradictory"), "2.5 % below");
    assertTrue(hovering("83", "" + 0.985 * knee).get(1).startsWith("Hover takes"), "1.5 % below");

    String high = hovering("150", "26").get(1);
    assertTrue(
        high.startsWith("Contradictory: rotor.hover_power_w of 150.0 W is more than the"), high);
    assertEquals(
        157.05 * knee / 27.55, number(high, "than the ([0-9.]+) W that the array delivers"), 2);
    assertTrue(hovering("140", "26").get(1).startsWith("Hover takes"));
  }

  private static double number(String text, String pattern) {
    Matcher found = Pattern.compile(pattern).matcher(text);
    assertTrue(found.find(), pattern + " in: " + text);
    return Double.parseDouble(found.group(1));
  }

  /** Every guess measured, there is nothing to say of widths; a foreign log is named. */
  @Test
  void aProfileThatStatesAllHasNoGuesses() throws IOException {
    StringBuilder text =
        new StringBuilder(
            Files.readString(Cli.STILT).replaceAll("(?m)^sensor.*_sd.*$|^light.*$", ""));
    for (Guess guess : Guess.ALL) {
      guess
          .measured()
          .forEach((key, value) -> text.append(key).append('=').append(value).append('\n'));
    }
    Path profile = Files.writeString(folder.resolve("whole.properties"), text);
    Path log = folder.resolve("ground.csv");
    StringBuilder rows = new StringBuilder("time_s,bus_v,bus_a,throttle\n");
    for (int i = 0; i < 500; i++) {
      rows.append(0.02 * i).append(",90,0.1,0\n");
    }
    Files.writeString(log, rows);
    Cli run = Cli.run("check", profile);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("The profile states every value that affects the width."), run.out);
    Cli foreign = Cli.run("check", profile, log);
    assertEquals(3, foreign.status, foreign.out);
    assertTrue(foreign.err.startsWith(log + " line "), foreign.err);
  }
}
