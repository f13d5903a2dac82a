package org.solarmargin.cli.fit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.fit.sweep.Curves;
import org.solarmargin.cli.fit.sweep.DiodeParameters;
import org.solarmargin.cli.fit.sweep.PublishedCurvesTest;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;
import org.solarmargin.core.profile.CraftProfile;

/** {@code margin fit} from the command line. */
class FitCommandTest {

  private static final Path RTC = PublishedCurvesTest.TABLES.resolve("rtc-france-33c.csv");
  private static final CellParameters CELL =
      new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 14.4, 0.0005);

  @TempDir private Path folder;

  private Path write(String name, Sweep sweep) throws IOException {
    StringBuilder text = new StringBuilder("voltage_v,current_a\n");
    for (int i = 0; i < sweep.size(); i++) {
      text.append(String.format(Locale.ROOT, "%.5f,%.5f%n", sweep.volts(i), sweep.amps(i)));
    }
    Path file = folder.resolve(name);
    Files.writeString(file, text);
    return file;
  }

  private static double number(String text, String before) {
    Matcher found = Pattern.compile(Pattern.quote(before) + "\\s+([-0-9.eE+]+)").matcher(text);
    assertTrue(found.find(), () -> before + " in\n" + text);
    return Double.parseDouble(found.group(1));
  }

  @Test
  void arrayPrintsTheFitAndWritesTheProfileLines() throws IOException {
    Path lines = folder.resolve("cells.properties");
    Path picture = folder.resolve("curve.png");
    Cli run =
        Cli.run(
            "fit", "array", RTC, "--series", 1, "--cell-c", 33, "--out", lines, "--plot", picture);
    assertEquals(0, run.status, run.err);
    assertEquals(7.7300626899e-4, number(run.out, "rms error"), 1e-12);
    assertEquals(0.7603, number(run.out, "Isc  A"), 1e-4);
    assertEquals(0.5728, number(run.out, "Voc  V"), 1e-4);
    CraftProfile profile = CraftProfile.parse("fragment", Files.readString(lines));
    assertEquals(1.47727, profile.settings().cell().ideality(), 1e-4);
    CellSpread spread = profile.settings().cellSpread();
    assertEquals(0.049, spread.seriesLogSd(), 1e-9, "scatter between sweeps of one module");
    assertEquals(0.023, spread.idealityLogSd(), 1e-9);
    assertEquals(33, profile.settings().cell().benchCelsius());
    assertEquals(-0.0033, profile.settings().cell().vocTempCoeffPerKelvin(), 1e-9);
    assertEquals(0.0005, spread.vocCoeffSdPerKelvin(), 1e-9);
    BufferedImage image = ImageIO.read(picture.toFile());
    assertTrue(image.getWidth() > 500 && image.getHeight() > 300);
  }

  @Test
  void fewReadingsUnderADriftingSunListUndeterminedParameters() throws IOException {
    Sweep seven = Curves.of(CELL, 48, 1, 1, 40, 7, 0, 1);
    Path file = write("resistors.csv", seven);
    Cli run = Cli.run("fit", "array", file, "--series", 48, "--cell-c", 40, "--light-drift", 3);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("not determined"), run.out);
    double peak = number(run.out, "Pmp  W");
    double truth =
        DiodeParameters.cell(DiodeParameters.of(CELL, 40), 40, 0.0005, -0.0033).photocurrentAmps();
    assertEquals(6.02, truth, 1e-9);
    assertEquals(1, peak / new FitResultOf(CELL).peak(40), 0.03);
  }

  /** Peak of 48 cells in full sun. */
  private record FitResultOf(CellParameters cell) {
    double peak(double celsius) {
      var array = new org.solarmargin.core.array.SolarArray(cell, 48, 1);
      array.set(1, celsius);
      array.solvePeak();
      return array.peakWatts();
    }
  }

  @Test
  void pointsAtKnownResistorsAreTheSamePoints() throws IOException {
    Sweep sweep = Curves.of(CELL, 48, 1, 1, 25, 40, 0.001, 1);
    StringBuilder amps = new StringBuilder("voltage_v,current_a\n");
    StringBuilder ohms = new StringBuilder("voltage_v,ohm\n");
    for (int i = 0; i < sweep.size(); i++) {
      if (sweep.amps(i) > 0.1 && sweep.volts(i) > 0.1) {
        double ohm = sweep.volts(i) / sweep.amps(i);
        amps.append(sweep.volts(i)).append(',').append(sweep.volts(i) / ohm).append('\n');
        ohms.append(sweep.volts(i)).append(',').append(ohm).append('\n');
      }
    }
    Path read = Files.writeString(folder.resolve("read.csv"), amps);
    Path known = Files.writeString(folder.resolve("known.csv"), ohms);
    String one = Cli.run("fit", "array", read, "--series", 48).out;
    String other = Cli.run("fit", "array", known, "--series", 48).out;
    assertEquals(one.replace("read.csv", "known.csv"), other);
    Files.writeString(known, "voltage_v,ohm\n20,0\n");
    assertTrue(Cli.run("fit", "array", known, "--series", 48).err.contains("ohm must be above 0"));
    Files.writeString(known, "voltage_v,ohm,current_a\n20,4,5\n");
    assertTrue(
        Cli.run("fit", "array", known, "--series", 48).err.contains("both current_a and ohm"));
  }

  @Test
  void aFolderGivesALineForEachSweepDespiteRefusals() throws IOException {
    write("a-clean.csv", Curves.of(CELL, 48, 1, 1, 25, 60, 0.001, 1));
    Sweep clean = Curves.of(CELL, 48, 1, 1, 25, 60, 0.001, 2);
    double[] volts = new double[60];
    double[] amps = new double[60];
    for (int i = 0; i < 60; i++) {
      volts[i] = clean.volts(i);
      amps[i] = Math.max(clean.amps(i) - (volts[i] > 14 ? 2 : 0), Math.min(clean.amps(i), 3.5));
    }
    write("b-stepped.csv", Curves.sweep(48, 1, 1, 25, volts, amps));
    Files.writeString(folder.resolve("c-text.csv"), "voltage_v,current_a\n1,two\n");
    Path table = folder.resolve("table.txt");
    Cli run = Cli.run("fit", "array", folder, "--series", 48, "--table", table);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("1 sweeps fitted, 2 refused"), run.out);
    String text = Files.readString(table);
    assertTrue(text.contains("a-clean.csv,FITTED,"), text);
    assertTrue(text.contains("b-stepped.csv,STEPPED,"), text);
    assertTrue(text.contains("c-text.csv,REFUSED,"), text);
  }

  private static CellParameters steeper() {
    return CELL.withVocTempCoeff(-0.0029, 25);
  }

  private static String withHeat(Sweep sweep) {
    StringBuilder text = new StringBuilder();
    for (int i = 0; i < sweep.size(); i++) {
      text.append(
          String.format(
              Locale.ROOT,
              "%.5f,%.5f,%.1f,%.2f%n",
              sweep.volts(i),
              sweep.amps(i),
              1000 * sweep.suns(i),
              sweep.celsius(i)));
    }
    return text.toString();
  }

  /** Sweeps at several temperatures, in a folder or one after another in one file. */
  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void sweepsOverTemperaturesDetermineTheCoefficient(boolean oneFile) throws IOException {
    String header = "voltage_v,current_a,irradiance_w_m2,cell_c\n";
    StringBuilder all = new StringBuilder(header);
    Path input = oneFile ? folder.resolve("all.csv") : folder.resolve("sweeps");
    if (!oneFile) {
      Files.createDirectory(input);
    }
    for (int i = 0; i < 5; i++) {
      Sweep sweep = Curves.of(steeper(), 48, 1, 0.9 - 0.1 * i, 10 + 8 * i, 60, 0.001, i);
      all.append(withHeat(sweep));
      if (!oneFile) {
        Files.writeString(input.resolve("s" + i + ".csv"), header + withHeat(sweep));
      }
    }
    if (oneFile) {
      Files.writeString(input, all);
    }
    Path lines = folder.resolve("cells.properties");
    Cli run = Cli.run("fit", "array", input, "--series", 48, "--out", lines);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("5 sweeps fitted, 0 refused"), run.out);
    CraftProfile profile = CraftProfile.parse("fragment", Files.readString(lines));
    double coeff = profile.settings().cell().vocTempCoeffPerKelvin();
    assertEquals(-0.0029, coeff, 0.0002, run.out);
    assertEquals(26, profile.settings().cell().benchCelsius(), 1);
    assertTrue(profile.settings().cellSpread().vocCoeffSdPerKelvin() < 0.0004, run.out);
  }

  @Test
  void aStatedCoefficientIsCheckedAndWritten() throws IOException {
    Path lines = folder.resolve("cells.properties");
    Cli run =
        Cli.run(
            "fit",
            "array",
            RTC,
            "--series",
            1,
            "--cell-c",
            33,
            "--voc-coeff",
            -0.4,
            "--voc-coeff-sd",
            0.015,
            "--out",
            lines);
    assertEquals(0, run.status, run.err);
    assertEquals(7.7300626899e-4, number(run.out, "rms error"), 1e-12);
    CraftProfile profile = CraftProfile.parse("fragment", Files.readString(lines));
    assertEquals(-0.004, profile.settings().cell().vocTempCoeffPerKelvin(), 1e-9);
    assertEquals(0.00015, profile.settings().cellSpread().vocCoeffSdPerKelvin(), 1e-9);
    assertEquals(2, Cli.run("fit", "array", RTC, "--series", 1, "--voc-coeff", 0.4).status);
    assertEquals(2, Cli.run("fit", "array", RTC, "--series", 1, "--voc-coeff-sd", -1).status);
  }

  @Test
  void theTableMarksWhatThePointsDoNotDetermine() throws IOException {
    CellParameters noShunt = new CellParameters(6.02, 6.9e-11, 1.056, 0.0046, 1e6, 0.0005);
    write("a.csv", Curves.of(noShunt, 48, 1, 1, 25, 60, 0.001, 1));
    Path table = folder.resolve("table.txt");
    Cli run = Cli.run("fit", "array", folder, "--series", 48, "--table", table);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("not determined: Rsh"), run.out);
    List<String> rows = Files.readAllLines(table);
    int column = List.of(rows.get(0).split(",", -1)).indexOf("undetermined");
    assertEquals("Rsh", rows.get(1).split(",", -1)[column]);
  }

  @Test
  void refusalsNameFileLineRuleAndValue() throws IOException {
    Path bad = folder.resolve("bad.csv");
    Files.writeString(bad, "voltage_v,current_a\n1,6\n2,six\n");
    Cli run = Cli.run("fit", "array", bad, "--series", 1);
    assertEquals(3, run.status);
    assertEquals(
        bad + " line 3: current_a must be a number: six: correct or remove the line",
        run.err.strip());
    assertEquals(3, Cli.run("fit", "array", folder.resolve("no.csv"), "--series", 1).status);
    assertEquals(2, Cli.run("fit", "array", RTC).status);
    assertEquals(2, Cli.run("fit", "array", RTC, "--series", 0).status);
    assertEquals(2, Cli.run("fit").status);
  }

  @Test
  void cellComparesTheBenchWithTheDataSheetAndFindsTheWeakSweep() throws IOException {
    Path one = write("one.csv", Curves.of(CELL, 12, 1, 1, 25, 60, 0.0005, 1));
    Path two = write("two.csv", Curves.of(CELL, 12, 1, 1, 25, 60, 0.0005, 2));
    Path three = write("three.csv", Curves.of(CELL, 12, 1, 0.93, 25, 60, 0.0005, 3));
    Path four = write("four.csv", Curves.of(CELL, 12, 1, 1, 25, 60, 0.0005, 4));
    Cli run = Cli.run("fit", "cell", "--craft", Cli.STILT, one, two, three, four, "--series", 12);
    assertEquals(0, run.status, run.err);
    assertTrue(
        run.out.lines().anyMatch(l -> l.startsWith("three") && l.contains("BELOW")), run.out);
    assertFalse(run.out.lines().anyMatch(l -> l.startsWith("two") && l.contains("BELOW")), run.out);
    assertEquals(2, Cli.run("fit", "cell").status);
    Cli sheet = Cli.run("fit", "cell", "--isc", 6.02, "--voc", 0.683, "--imp", 5.7, "--vmp", 0.574);
    assertEquals(0, sheet.status, sheet.err);
  }

  /** Motor with C 0.0069, R 0.7 ohm, 1 W of housekeeping; thrust 40 P^0.69 g; noise 2 mA. */
  private Path stand() throws IOException {
    StringBuilder text = new StringBuilder("throttle,bus_v,bus_a,thrust_g\n");
    Random random = new Random(1);
    for (int i = 0; i <= 16; i++) {
      double throttle = 0.05 * i;
      double volts = 30 - 4 * throttle;
      double winding = throttle * volts;
      double emf = 2 * winding / (1 + Math.sqrt(1 + 4 * 0.7 * 0.0069 * winding));
      double motor = 0.0069 * emf * emf;
      double amps = throttle * motor + 1 / volts + 0.002 * random.nextGaussian();
      double grams = 40 * Math.pow(winding * motor, 0.69);
      text.append(
          String.format(Locale.ROOT, "%.3f,%.3f,%.4f,%.2f%n", throttle, volts, amps, grams));
    }
    Path file = folder.resolve("stand.csv");
    Files.writeString(file, text);
    return file;
  }

  @Test
  void rotorFindsTheMotorAndTheHoverPoint() throws IOException {
    Path lines = folder.resolve("rotor.properties");
    Cli run =
        Cli.run(
            "fit", "rotor", stand(), "--craft", Cli.STILT, "--at-altitude", 1500, "--out", lines);
    assertEquals(0, run.status, run.err);
    assertEquals(2, number(run.out, "exponent m"), 0.1);
    assertEquals(1, number(run.out, "housekeeping power"), 0.1);
    assertEquals(0.69, number(run.out, "Thrust is proportional to power to the"), 0.005);
    // 400 g each: P = 10^(1/0.69) W, four of them and 3.5 W of housekeeping
    double expected = 4 * Math.pow(10, 1 / 0.69) + 3.5;
    assertEquals(expected, number(run.out, "full sun: hover takes"), 0.01 * expected);
    // standard air: 1.0581 kg/m3 at 1500 m (ISO 2533)
    assertTrue(run.out.contains("1.0581"), run.out);
    assertTrue(Files.readString(lines).contains("rotor.hover_power_w = "));
    Cli heavy = Cli.run("fit", "rotor", stand(), "--craft", Cli.STILT, "--mass-kg", 6);
    assertTrue(heavy.out.contains("outside the measured range"), heavy.out);
    assertTrue(heavy.out.contains("DOES NOT HOVER"), heavy.out);
  }

  @Test
  void resistorAdvisesAndWarnsOfHeat() {
    Cli run = Cli.run("fit", "resistor", "--craft", Cli.STILT, "--irradiance", 800);
    assertEquals(0, run.status, run.err);
    // half of the rating: 25 C and half of the 225 K that MIL-PRF-39009's derating spans
    assertTrue(run.out.contains("reach about 138 C"), run.out);
    assertTrue(run.out.contains("cannot be switched off in light"), run.out);
    assertFalse(run.out.contains("shock"), run.out);
    Cli hand = Cli.run("fit", "resistor", "--craft", Cli.STILT, "--ohms", "3.3,4.7");
    assertEquals(0, hand.status, hand.err);
    assertEquals(2, Cli.run("fit", "resistor", "--craft", Cli.STILT, "--ohms", "-1").status);
  }

  /** IEC 60364-4-41: 60 and 120 V of ripple-free direct current. */
  @ParameterizedTest
  @ValueSource(ints = {48, 120, 400})
  void highVoltagesAreWarnedOf(int cells) throws IOException {
    Path craft = folder.resolve("craft.properties");
    String stilt = Files.readString(Cli.STILT).replaceAll("(?m)^(craft.mass|rotor).*\n", "");
    Files.writeString(craft, stilt.replace("series_cells = 48", "series_cells = " + cells));
    Cli run = Cli.run("fit", "resistor", "--craft", craft);
    assertEquals(0, run.status, run.err);
    assertEquals(cells >= 120 && cells < 200, run.out.contains("electric shock"), run.out);
    assertEquals(cells >= 200, run.out.contains("licensed"), run.out);
  }

  @Test
  void cellRefusesAWrongCount() throws IOException {
    Path two = write("two.csv", Curves.of(CELL, 12, 2, 1, 25, 60, 0.0005, 1));
    Cli run = Cli.run("fit", "cell", "--craft", Cli.STILT, two, "--series", 12);
    assertEquals(3, run.status, run.out);
    assertTrue(run.err.contains("check --parallel (now 1)"), run.err);
    Cli right = Cli.run("fit", "cell", "--craft", Cli.STILT, two, "--series", 12, "--parallel", 2);
    assertEquals(0, right.status, right.err);
    assertTrue(right.out.contains("1000 W/m2 and 25 C are assumed"), right.out);
    Cli series = Cli.run("fit", "cell", "--craft", Cli.STILT, two, "--series", 10, "--parallel", 2);
    assertEquals(3, series.status, series.out);
    assertTrue(series.err.contains("check --series (now 10)"), series.err);
  }

  @Test
  void rotorReportsThatAHoverNearTheLimitIsInAnAlert() throws IOException {
    Cli run = Cli.run("fit", "rotor", stand(), "--craft", Cli.STILT, "--mass-kg", 1.85);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("this hover is in"), run.out);
    assertTrue(run.out.contains("Left out of this table"), run.out);
  }

  @Test
  void theDemoBenchFilesFit() {
    Path bench = Cli.EXAMPLES.resolve("bench");
    Cli array =
        Cli.run(
            "fit",
            "array",
            bench.resolve("array-sweep.csv"),
            "--series",
            48,
            "--irradiance",
            910,
            "--cell-c",
            41);
    assertEquals(0, array.status, array.err);
    Cli rotor = Cli.run("fit", "rotor", bench.resolve("rotor-stand.csv"), "--craft", Cli.STILT);
    assertEquals(0, rotor.status, rotor.err);
  }

  private static final Path SWEEP = Cli.EXAMPLES.resolve("bench/array-sweep.csv");

  /** The output as one line, of a fit of the demo sweep into the demo profile. */
  private String into(int series, int irradiance) throws IOException {
    Path profile = folder.resolve("into.properties");
    Files.copy(Cli.STILT, profile, StandardCopyOption.REPLACE_EXISTING);
    Cli run =
        Cli.run(
            "fit",
            "array",
            SWEEP,
            "--series",
            series,
            "--irradiance",
            irradiance,
            "--cell-c",
            41,
            "--into",
            profile);
    assertEquals(0, run.status, run.err);
    return run.out.replaceAll("\\s+", " ");
  }

  @Test
  void aWrongCountOfCellsIsCautionedAbout() throws IOException {
    String more = into(60, 910);
    assertTrue(more.contains("Caution: each cell has an ideality of 0.84"), more);
    assertTrue(more.contains("Is --series 60 right?"), more);
    assertTrue(more.contains("0.683 V by the profile"), more);
    String fewer = into(40, 910);
    assertTrue(fewer.contains("(silicon: at most 0.761 V)"), fewer);
    assertTrue(fewer.contains("Is --series 40 right?"), fewer);
    String right = into(48, 910);
    assertFalse(right.contains("Caution"), right);
  }

  /** The voltage of a cell differs too little to contradict the profile. */
  @ParameterizedTest
  @ValueSource(ints = {45, 46, 50})
  void aCountOffByAFewCellsIsCautionedAbout(int series) throws IOException {
    String words = "--series is " + series + ", but the profile's array has 48 cells in series";
    String out = into(series, 910);
    assertTrue(out.contains(words), out);
    assertFalse(out.contains("Is --series"), out);
  }

  @Test
  void thePageOfAWrongCountHasTheCaution() throws IOException {
    Path page = folder.resolve("page.html");
    Cli run = Cli.run("fit", "array", SWEEP, "--series", 60, "--cell-c", 41, "--report", page);
    assertEquals(0, run.status, run.err);
    assertTrue(Files.readString(page).contains("Caution: each cell has an ideality of 0.84"));
  }

  @Test
  void aWrongLightIsCautionedAbout() throws IOException {
    String wrong = into(48, 91);
    assertTrue(wrong.contains("59.1 A by this fit, but 6.02 A by the profile"), wrong);
    assertTrue(wrong.contains("Is the light of 91 W/m2 right (--irradiance"), wrong);
    assertFalse(wrong.contains("Is --series"), wrong);
  }

  /** Cells that are neither the latest nor in a bright light must not be suspected. */
  @Test
  void publishedCellsArePlausible() {
    String[][] curves = {
      {"rtc-france-33c.csv", "1", "33"},
      {"pwp201-45c.csv", "36", "45"},
      {"stm6-40-36-51c.csv", "36", "51"},
      {"stp6-120-36-55c.csv", "36", "55"}
    };
    for (String[] curve : curves) {
      Path file = PublishedCurvesTest.TABLES.resolve(curve[0]);
      Cli run =
          Cli.run(
              "fit",
              "array",
              file,
              "--series",
              curve[1],
              "--cell-c",
              curve[2],
              "--irradiance",
              999);
      assertEquals(0, run.status, run.err);
      assertFalse(run.out.contains("each cell has"), run.out);
    }
  }

  @Test
  void aFolderWithAWrongLightAndAWrongCountIsCautionedAbout() throws IOException {
    Path sweeps = Files.createDirectory(folder.resolve("sweeps"));
    String header = "voltage_v,current_a,irradiance_w_m2,cell_c\n";
    for (int i = 0; i < 4; i++) {
      Sweep sweep = Curves.of(CELL, 48, 1, 0.9 - 0.05 * i, 30, 60, 0.001, i);
      String rows = withHeat(sweep).replace(",800.0,", ",80.0,");
      Files.writeString(sweeps.resolve("s" + i + ".csv"), header + rows);
    }
    Path lines = folder.resolve("cells.properties");
    Cli run = Cli.run("fit", "array", sweeps, "--series", 60, "--out", lines);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("together as one array: 3 sweeps"), run.out);
    assertTrue(run.out.contains("  s2.csv: a light of 80 W/m2 is stated, but"), run.out);
    assertTrue(run.out.replaceAll("\\s+", " ").contains("Is --series 60 right?"), run.out);
    assertTrue(Files.readString(lines).contains("# left out: s2.csv"), run.out);
    assertEquals(6.02, number(run.out, "IL"), 0.1);
  }

  @Test
  void aReportOfAFolderIsRefusedWithTheReason() {
    Path page = folder.resolve("page.html");
    Cli run = Cli.run("fit", "array", folder, "--series", 48, "--report", page);
    assertEquals(3, run.status, "no sweeps in this folder");
    Cli bench = Cli.run("fit", "array", SWEEP.getParent(), "--series", 48, "--report", page);
    assertEquals(2, bench.status, bench.out);
    assertTrue(
        bench.err.startsWith("--plot and --report show one sweep: give its file"), bench.err);
    assertFalse(Files.exists(page));
  }
}
