package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A new user's workflow with a hexarotor of 60 cells in two strings, from a first profile to
 * thresholds.
 */
class NewcomerTest {

  private static final String STILL =
      "plan = 3:40\nsky.suns = 0.95\nair.temp_c = 15\nair.wind_m_s = 0\nair.turbulence_w20_m_s = 0\n";

  @TempDir private Path folder;

  private Path at(String name) {
    return folder.resolve(name);
  }

  private static Cli done(Object... args) {
    Cli run = Cli.run(args);
    assertEquals(0, run.status, run.out + run.err);
    return run;
  }

  private Path sweep(CraftProfile craft) throws IOException {
    SolarArray array = craft.settings().newArray();
    array.set(0.9, 40);
    StringBuilder text = new StringBuilder("voltage_v,current_a\n");
    double most = array.openCircuitVolts();
    for (int i = 0; i < 40; i++) {
      double volts = most * i / 40.0;
      text.append(String.format(Locale.ROOT, "%.4f,%.4f%n", volts, 0.99 * array.ampsAt(volts)));
    }
    return Files.writeString(at("sweep.csv"), text);
  }

  /** Thrust by momentum theory with a figure of merit of 0.62 and usual losses. */
  private Path stand() throws IOException {
    StringBuilder text = new StringBuilder("throttle,bus_v,bus_a,thrust_g\n");
    for (int i = 1; i <= 9; i++) {
      double throttle = 0.08 * i;
      double volts = 19 - 1.5 * throttle;
      double winding = throttle * volts;
      double motor = 0.016 * Math.pow(winding * 0.94, 2);
      double watts = winding * motor;
      double shaft = 0.81 * watts;
      double disc = Math.PI * 0.45 * 0.45 / 4;
      double newtons = Math.cbrt(2 * 1.225 * disc * Math.pow(0.62 * shaft, 2));
      text.append(
          String.format(
              Locale.ROOT,
              "%.2f,%.3f,%.4f,%.1f%n",
              throttle,
              volts,
              watts / volts,
              1000 * newtons / 9.80665));
    }
    return Files.writeString(at("stand.csv"), text);
  }

  @Test
  void fromAFirstProfileToThresholds() throws IOException {
    Path profile = at("heron.properties");
    done(
        "init",
        profile,
        "--name",
        "Heron",
        "--series",
        30,
        "--parallel",
        2,
        "--isc",
        6.02,
        "--voc",
        0.683,
        "--imp",
        5.7,
        "--vmp",
        0.574,
        "--mass-kg",
        2.1,
        "--rotors",
        6,
        "--diameter-m",
        0.45);
    Cli again = Cli.run("init", profile, "--series", 30);
    assertEquals(2, again.status);
    assertTrue(again.err.contains("exists already"), again.err);
    assertTrue(done("check", profile).out.contains("Width of the interval"));

    String before = Files.readString(profile);
    Cli array =
        done(
            "fit",
            "array",
            sweep(CraftProfile.read(profile)),
            "--series",
            30,
            "--parallel",
            2,
            "--irradiance",
            900,
            "--cell-c",
            40,
            "--into",
            profile);
    assertTrue(array.out.contains("cell.isc_a  6.02 -> comment"), array.out);
    assertTrue(array.out.contains("cell.ideality  (none) -> "), array.out);
    Cli rotor = done("fit", "rotor", stand(), "--craft", profile, "--into", profile);
    assertTrue(rotor.out.contains("rotor.hover_power_w  "), rotor.out);
    String after = Files.readString(profile);
    assertTrue(after.contains("# cell.isc_a = 6.02"), after);
    assertEquals(
        before
            .lines()
            .filter(line -> line.startsWith("# ") && !line.startsWith("# ESTIMATED"))
            .toList(),
        after.lines().filter(line -> line.startsWith("# ")).filter(before::contains).toList(),
        "comments are kept in order, without the marks of estimates that are now measured");
    Cli measured = Cli.run("check", profile);
    assertFalse(measured.out.contains("Contradictory"), measured.out);
    assertFalse(measured.out.contains("estimate: "), measured.out);

    Path scenario = Files.writeString(at("hover.properties"), STILL);
    done(
        "simulate",
        scenario,
        "--craft",
        profile,
        "--log",
        at("log.csv"),
        "--truth",
        at("truth.csv"));
    double stated = CraftProfile.read(profile).settings().rotor().hoverWatts();
    double demand =
        Files.readAllLines(at("truth.csv")).stream()
            .skip(1000)
            .mapToDouble(line -> Double.parseDouble(line.split(",", -1)[2]))
            .average()
            .orElseThrow();
    assertEquals(stated, demand, 0.02 * stated, "hover power as stated");
    assertTrue(
        done("replay", at("log.csv"), "--craft", profile)
            .out
            .contains("There was spare power throughout"));
    assertTrue(done("check", profile, at("log.csv")).out.contains("Nothing contradicts"));
    Path tuned = at("tuned.properties");
    done("tune", at("log.csv"), "--craft", profile, "--out", tuned);
    done("compare", profile, tuned, at("log.csv"));
  }

  @Test
  void tenFaultsAreListedAndTheRestCounted() throws IOException {
    Cli run = Cli.run("check", Cli.EXAMPLES.resolve("flights/cloud-passage.csv"));
    assertEquals(3, run.status);
    assertTrue(run.err.lines().count() <= 12, run.err);
  }
}
