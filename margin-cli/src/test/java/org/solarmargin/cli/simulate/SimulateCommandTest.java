package org.solarmargin.cli.simulate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;

class SimulateCommandTest {

  @TempDir private Path folder;

  /** The command reproduces the committed demo flights byte for byte. */
  @ParameterizedTest
  @ValueSource(strings = {"cloud-passage", "slow-fade", "gusty-hover"})
  void reproducesTheDemoFlights(String name) throws IOException {
    Path log = folder.resolve("log.csv");
    Path truth = folder.resolve("truth.csv");
    Cli run =
        Cli.run(
            "simulate",
            Cli.EXAMPLES.resolve("scenarios/" + name + ".properties"),
            "--craft",
            Cli.STILT,
            "--log",
            log,
            "--truth",
            truth);
    assertEquals(0, run.status, run.err);
    assertEquals(-1, Files.mismatch(Cli.EXAMPLES.resolve("flights/" + name + ".csv"), log));
    List<String> lines = Files.readAllLines(truth);
    assertEquals("time_s,available_w,demand_w,mpp_v,suns,cell_c,height_m,ceiling", lines.get(0));
    assertEquals(Files.readAllLines(log).size(), lines.size(), "one line for each of the log");
  }

  /**
   * SHA-256 of a log with noise, spikes, drop-outs, jitter and a freeze, as written by the
   * simulator before it had a time model of the readings, with the present temperature law of the
   * cells.
   */
  @Test
  void aScenarioWithoutATimeModelKeepsItsBytes() throws Exception {
    Path scenario = Cli.EXAMPLES.resolve("scenarios/rough-sensors.properties");
    byte[] log = Files.readAllBytes(simulate(scenario, 7));
    byte[] digest = MessageDigest.getInstance("SHA-256").digest(log);
    assertEquals(
        "f83fb1c69a3a94c9b2f40fb010be29095b223f96b800fa29536463fc98c501a7",
        HexFormat.of().formatHex(digest));
  }

  @Test
  void aTimeModelOfZerosChangesNothing() throws IOException {
    Path stated = Cli.EXAMPLES.resolve("scenarios/rough-sensors.properties");
    Path zeros = folder.resolve("zeros.properties");
    Files.writeString(
        zeros,
        Files.readString(stated)
            + """
            sensor.voltage_filter_s = 0
            sensor.current_filter_s = 0
            sensor.voltage_filter_shape = average
            sensor.current_filter_shape = second_order
            sensor.voltage_delay_s = 0
            sensor.current_delay_s = 0
            sensor.voltage_period_s = 0
            sensor.current_period_s = 0
            craft.command_lag_s = 0
            craft.command_delay_s = 0
            log.throttle_step = 0
            log.throttle_power = 1
            """);
    assertEquals(-1, Files.mismatch(simulate(stated, 3), simulate(zeros, 3)));
  }

  private Path simulate(Path scenario, int seed) {
    String name = scenario.getFileName().toString();
    Path log = folder.resolve(name + ".csv");
    Path truth = folder.resolve(name + ".truth.csv");
    Cli run =
        Cli.run(
            "simulate",
            scenario,
            "--craft",
            Cli.STILT,
            "--log",
            log,
            "--truth",
            truth,
            "--seed",
            seed);
    assertEquals(0, run.status, run.err);
    return log;
  }

  @Test
  void scenariosAreReadAsStrictlyAsProfiles() throws IOException {
    Path bad = folder.resolve("bad.properties");
    Files.writeString(bad, "plan = 10:60\nsky.sun = 1\nair.wind_m_s = 99\nlimiter = maybe\n");
    Path log = folder.resolve("log.csv");
    Cli run = Cli.run("simulate", bad, "--craft", Cli.STILT, "--log", log, "--truth", log + "t");
    assertEquals(3, run.status);
    assertTrue(run.err.contains("line 2: unknown key sky.sun, did you mean sky.suns?"), run.err);
    assertTrue(run.err.contains("line 3: air.wind_m_s must be in [0, 30]: 99"), run.err);
    assertTrue(run.err.contains("line 4: limiter must be on or off: maybe"), run.err);
    assertTrue(Files.notExists(log));
  }

  @Test
  void aRecordingIsFlown() throws IOException {
    Files.writeString(
        folder.resolve("sun.csv"), "time_s,irradiance_w_m2\n0,900\n20,950\n40,700\n60,900\n");
    Path scenario = folder.resolve("s.properties");
    Files.writeString(scenario, "plan = 10:60\nsky.kind = recording\nsky.file = sun.csv\n");
    Path truth = folder.resolve("t.csv");
    Cli run =
        Cli.run(
            "simulate",
            scenario,
            "--craft",
            Cli.STILT,
            "--log",
            folder.resolve("l.csv"),
            "--truth",
            truth);
    assertEquals(0, run.status, run.err);
    String line =
        Files.readAllLines(truth).stream()
            .filter(l -> l.startsWith("30.000,"))
            .findFirst()
            .orElse("");
    assertEquals(0.825, Double.parseDouble(line.split(",", -1)[4]), 1e-3, "half-way down");
  }
}
