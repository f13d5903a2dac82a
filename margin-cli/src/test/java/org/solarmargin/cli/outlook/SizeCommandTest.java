package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.profile.CraftProfile;

class SizeCommandTest {

  @TempDir private Path folder;

  private static Cli size(double kilograms, Object... more) {
    boolean diameter = List.of(more).contains("--diameter-m");
    List<Object> words =
        new ArrayList<>(
            List.of(
                "size",
                "--mass-kg",
                kilograms,
                "--isc",
                6.02,
                "--voc",
                0.683,
                "--imp",
                5.7,
                "--vmp",
                0.574,
                "--at",
                "53.7,7.7",
                "--date",
                "2026-06-21",
                "--air-c",
                15));
    words.addAll(diameter ? List.of() : List.of("--diameter-m", 0.5588));
    words.addAll(List.of(more));
    return Cli.run(words.toArray());
  }

  /**
   * Common practice, no source: bare back-contact cells of 125 mm deliver 3 to 3.6 W each in full
   * sun, and a craft of this kind hovers at 10 to 17 g per watt, with large, slow propellers at
   * somewhat more.
   */
  @Test
  void theSizedCraftIsRealistic() throws IOException {
    Path out = folder.resolve("first.properties");
    Cli run = size(1.05, "--out", out);
    assertEquals(0, run.status, run.err);
    CraftProfile craft = CraftProfile.read(out);
    int cells = craft.settings().seriesCells() * craft.settings().parallelStrings();
    assertTrue(cells > 36 && cells < 60, run.out);
    double grams = 1000 * craft.massKilograms() / craft.settings().rotor().hoverWatts();
    assertTrue(grams > 10 && grams < 20, grams + " g/W");
    assertTrue(run.out.contains("<- fewest"), run.out);
    assertTrue(run.out.contains("upper limit"), run.out);
    assertTrue(run.out.contains("Basis"), run.out);
    Matcher figures =
        Pattern.compile("A cell delivers ([0-9.]+) W at .* hovers at ([0-9.]+) g per watt")
            .matcher(run.out);
    assertTrue(figures.find(), run.out);
    double watts = Double.parseDouble(figures.group(1));
    assertTrue(watts >= 3 && watts <= 3.6, watts + " W a cell");
    assertEquals(grams, Double.parseDouble(figures.group(2)), 0.06);
  }

  /** The same with propellers of 18 inches: the middle of the usual range. */
  @Test
  void smallerPropellersHoverAtFewerGramsPerWatt() {
    Cli run = size(1.05, "--diameter-m", 0.457, "--reserve", 20);
    assertEquals(0, run.status, run.err);
    Matcher figures = Pattern.compile("hovers at ([0-9.]+) g per watt").matcher(run.out);
    assertTrue(figures.find(), run.out);
    double grams = Double.parseDouble(figures.group(1));
    assertTrue(grams > 10 && grams < 17, run.out);
  }

  /** The simulator confirms the outlook's best hour in the same light and air. */
  @Test
  void theSizedCraftFliesWithItsReserve() throws IOException {
    Path out = folder.resolve("first.properties");
    assertEquals(0, size(1.05, "--out", out).status);
    CraftProfile craft = CraftProfile.read(out);
    Moment best =
        new DayOutlook(
                craft,
                new Place(53.7, 7.7, 0),
                new Weather(15, 15, 0, 0),
                new Attitude(0, Double.NaN))
                .day(
                    java.time.LocalDate.of(2026, 6, 21),
                    java.time.ZoneOffset.UTC,
                    java.time.Duration.ofMinutes(30))
                .stream()
                .max(Comparator.comparingDouble(Moment::lowPercent))
                .orElseThrow();
    assertTrue(best.lowPercent() > 30 && best.lowPercent() < 40, best.toString());
    Path scenario =
        Files.writeString(
            folder.resolve("hover.properties"),
            String.format(
                Locale.ROOT,
                "plan = 3:40%nsky.suns = %.5f%nair.temp_c = 15%nair.wind_m_s = 0%n"
                    + "air.turbulence_w20_m_s = 0%nair.downwash_m_s = 6%n",
                best.suns()));
    Path truth = folder.resolve("truth.csv");
    Cli flown =
        Cli.run(
            "simulate",
            scenario,
            "--craft",
            out,
            "--log",
            folder.resolve("log.csv"),
            "--truth",
            truth);
    assertEquals(0, flown.status, flown.err);
    double[] sums = new double[2];
    List<String> lines = Files.readAllLines(truth);
    for (String line : lines.subList(1500, lines.size())) {
      String[] f = line.split(",", -1);
      sums[0] += Double.parseDouble(f[1]);
      sums[1] += Double.parseDouble(f[2]);
    }
    double margin = 100 * (sums[0] / sums[1] - 1);
    assertEquals(best.marginPercent(), margin, 3, best.toString());
  }

  @Test
  void aCraftThatCannotFlyIsReported() {
    Cli heavy = size(30, "--most-strings", 1);
    assertEquals(0, heavy.status, heavy.err);
    assertTrue(heavy.out.contains("NO NUMBER OF CELLS lifts this craft"), heavy.out);
    assertFalse(heavy.out.contains("<- fewest"), heavy.out);
    assertEquals(2, size(-1).status);
    assertEquals(2, size(1, "--merit", 2).status);
  }
}
