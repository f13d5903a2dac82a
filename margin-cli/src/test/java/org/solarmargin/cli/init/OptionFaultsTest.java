package org.solarmargin.cli.init;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;

/** Faulty values given to init and size are reported by the names of their options. */
class OptionFaultsTest {

  private static final String VOLTS = " must be in [0.001, 10]: ";
  private static final String PER_CELL =
      ": give the voltage of one cell, not that of a module or string";

  @TempDir private Path folder;

  private List<String> init(String values) {
    Path profile = folder.resolve("m2.properties");
    List<Object> words = new ArrayList<>(List.of("init", profile));
    words.addAll(List.of((values + " --isc 6.2 --imp 5.9 --rotors 6").split(" ")));
    Cli run = Cli.run(words.toArray());
    assertEquals(2, run.status, run.out);
    assertFalse(Files.exists(profile));
    List<String> faults = run.err.lines().takeWhile(line -> !line.startsWith("Help:")).toList();
    assertFalse(faults.toString().contains("m2.properties"), faults.toString());
    return faults;
  }

  /** 43.8 V / 60 = 0.73 V, 37.2 V / 60 = 0.62 V. */
  @Test
  void voltagesOfAModuleAreDividedByTheCells() {
    String rest = " --voc 43.8 --vmp 37.2 --mass-kg 2.1 --diameter-m 0.45";
    assertEquals(
        List.of(
            "--voc" + VOLTS + "43.8" + PER_CELL + " (43.8 V / 60 cells = 0.7300 V)",
            "--vmp" + VOLTS + "37.2" + PER_CELL + " (37.2 V / 60 cells = 0.6200 V)"),
        init("--series 60" + rest));
    assertEquals("--voc" + VOLTS + "43.8" + PER_CELL, init("--series 1" + rest).get(0));
    Cli size =
        Cli.run(
            (Object[])
                ("size --isc 6.2 --imp 5.9 --at 48.1,11.6 --date 2026-06-21" + rest).split(" "));
    assertEquals(2, size.status);
    assertTrue(size.err.startsWith("--voc" + VOLTS + "43.8" + PER_CELL + "\n--vmp"), size.err);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "--mass-kg 2; --voc -1; --voc must be in [0.001, 10]: -1",
        "--mass-kg 2; --voc x; --voc must be a number with '.' as decimal mark: x",
        "--mass-kg 2.1kg; --voc 0.73; --mass-kg must be a number with '.' as decimal mark: 2.1kg",
        "--mass-kg 21000; --voc 0.73;"
            + " --mass-kg must be in [0.01, 10000]: 21000: give the mass in kilograms,"
            + " 21000 g are 21 kg"
      })
  void otherFaultsNameTheirOption(String mass, String volts, String fault) {
    assertEquals(
        fault, init(mass + " " + volts + " --series 60 --vmp 0.62 --diameter-m 0.45").get(0));
  }

  /**
   * Momentum theory by hand: 2100 kg on six discs of 0.45 m at 1.225 kg/m3 take 1.93e6 W, divided
   * by 0.62 x 0.81 that is 3.85e6 W; 60 cells of 5.9 A x 0.62 V give 219 W.
   */
  @Test
  void aMassInGramsIsRecognised() {
    String rest = " --series 60 --voc 0.73 --vmp 0.62 --diameter-m 0.45";
    String grams = init("--mass-kg 2100" + rest).get(0);
    assertTrue(grams.startsWith("--mass-kg 2100: hover takes about 3.85e+06 W with 6 "), grams);
    assertTrue(grams.contains("but the array delivers 219 W in full sun"), grams);
    assertTrue(grams.endsWith("give the mass in kilograms, 2100 g are 2.1 kg"), grams);
    String heavy = init("--mass-kg 21" + rest).get(0);
    assertTrue(heavy.startsWith("--mass-kg 21: hover takes about "), heavy);
    assertTrue(heavy.contains("margin size finds how many cells suffice"), heavy);
    assertFalse(heavy.contains(" g are "), heavy);
  }
}
