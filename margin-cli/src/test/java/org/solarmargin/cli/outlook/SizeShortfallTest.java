package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;

/** What size says of a craft that no array carries. */
class SizeShortfallTest {

  private static final String CELL = " --isc 6.2 --voc 0.73 --imp 5.9 --vmp 0.62";
  private static final String DAY = " --at 48.1,11.6 --date 2026-06-21";

  private static Cli size(String words) {
    return Cli.run((Object[]) ("size --rotors 6" + CELL + DAY + " " + words).split(" "));
  }

  private static String done(String words) {
    Cli run = size(words);
    assertEquals(0, run.status, run.err);
    return run.out.replaceAll("\\s+", " ");
  }

  private static double number(String text, String pattern) {
    Matcher found = Pattern.compile(pattern).matcher(text);
    assertTrue(found.find(), pattern + " in: " + text);
    return Double.parseDouble(found.group(1));
  }

  /**
   * Momentum theory (Leishman, Principles of Helicopter Aerodynamics, section 2.2): 8 kg and 328
   * cells of 11.5 g on six discs of 0.46 m in air of 25 degrees C (101325 / (287.05 x 298.15) =
   * 1.184 kg/m3), at a figure of merit of 0.62 and a drive of 0.81.
   */
  @Test
  void theShortfallOfTheBestArrayIsStated() {
    String text = done("--mass-kg 8 --diameter-m 0.46");
    assertTrue(text.contains("NO NUMBER OF CELLS lifts this craft"), text);
    double newtons = (8 + 328 * 0.0115) * 9.80665;
    double discs = 6 * Math.PI * 0.46 * 0.46 / 4;
    double hover = 3 + newtons * Math.sqrt(newtons / (2 * 1.184 * discs)) / (0.62 * 0.81);
    assertTrue(text.contains("The best array within the limits, 328 cells, delivers"), text);
    assertEquals(hover, number(text, "Hover takes ([0-9]+) W"), 2);
    double low = number(text, "at least ([0-9]+) W with 95 %");
    assertEquals(1.3 * hover - low, number(text, ": ([0-9]+) W are missing"), 3);
    assertTrue(text.contains(String.format(" %.0f %% <- most", 100 * (low / hover - 1))), text);
  }

  /**
   * A hover power that grows with the mass to the power of 1.5 leaves the greatest reserve at dP/P
   * = dN/N, where the cells weigh twice as much as the rest: 16 kg of 11.5 g each.
   */
  @Test
  void theBestNumberOfCellsWithoutLimitsIsStated() {
    String text = done("--mass-kg 8 --diameter-m 0.46 --most-strings 1");
    assertEquals(16 / 0.0115, number(text, "the best array would have ([0-9]+) cells"), 8);
    assertTrue(
        done("--mass-kg 6 --diameter-m 0.46 --most-strings 1")
            .contains(
                "NO ARRAY within the limits (--most-v 60, --most-strings 1 and 400 cells) lifts"
                    + " this craft."));
  }

  /** Each change that is said to suffice does so, and one that is 3 % smaller does not. */
  @Test
  void theSuggestedChangesSuffice() {
    String rest = " --most-strings 2 --reserve 25";
    String text = done("--mass-kg 4 --diameter-m 0.46" + rest);
    double mass = number(text, "except the cells weighs ([0-9.]+) kg instead of 4.00 kg");
    double metres = number(text, "propellers of ([0-9.]+) m instead of 0.460 m");
    String fewest = "<- fewest";
    assertTrue(done("--mass-kg " + mass + " --diameter-m 0.46" + rest).contains(fewest));
    assertFalse(done("--mass-kg " + 1.03 * mass + " --diameter-m 0.46" + rest).contains(fewest));
    assertTrue(done("--mass-kg 4 --diameter-m " + metres + rest).contains(fewest));
    assertFalse(done("--mass-kg 4 --diameter-m " + 0.97 * metres + rest).contains(fewest));
  }

  @Test
  void lessReserveIsSuggestedToACraftThatFlies() {
    String text = done("--mass-kg 3.5 --diameter-m 0.46");
    assertTrue(text.contains("NO ARRAY of these cells lifts this craft with a reserve of 30 %"));
    double reserve = number(text, "a reserve of ([0-9]+) % instead of 30 % \\(--reserve\\)");
    assertTrue(
        done("--mass-kg 3.5 --diameter-m 0.46 --reserve " + reserve).contains("<- fewest"), text);
    assertFalse(done("--mass-kg 8 --diameter-m 0.46").contains("(--reserve)"));
  }

  @Test
  void oneCellIsSingular() {
    String text =
        done("--mass-kg 0.02 --diameter-m 0.46 --house-w 0 --most-v 1.4 --most-strings 1");
    assertTrue(text.contains("More than 1 cell exceed"), text);
    assertFalse(text.contains("1 cells"), text);
  }

  @Test
  void moreCellsExceedTheLimitsOrGainNothing() {
    assertTrue(done("--mass-kg 1 --diameter-m 0.46").contains("cells gain nothing: they add more"));
    assertTrue(done("--mass-kg 2 --diameter-m 0.46").contains("More than 328 cells exceed the"));
  }

  @Test
  void whatCannotBeSizedIsRefused() {
    String craft = "--mass-kg 2 --diameter-m 0.46";
    Cli night =
        Cli.run((Object[]) ("size " + craft + CELL + " --at 88,11 --date 2026-12-21").split(" "));
    assertEquals(2, night.status);
    assertTrue(night.err.startsWith("no light falls on the array"), night.err);
    Cli heavy = size("--mass-kg 99 --diameter-m 0.05 --rotors 1");
    assertEquals(2, heavy.status);
    Cli grams = size("--mass-kg 2100 --diameter-m 0.46");
    assertTrue(
        grams.err.startsWith("--mass-kg must be in (0.01, 100) kg, not in grams"), grams.err);
    Cli volts = size(craft + " --most-v 1.05 --voc 1.1");
    assertEquals(2, volts.status);
    Cli undated = Cli.run((Object[]) ("size " + craft + CELL + " --at 48,11").split(" "));
    assertEquals(2, undated.status);
    assertTrue(undated.err.contains("option: '--date=YYYY-MM-DD'"), undated.err);
    Cli help = Cli.run("size", "--help");
    assertTrue(help.out.contains(" --date=YYYY-MM-DD "), help.out);
    assertFalse(help.out.contains("[--date"), help.out);
  }
}
