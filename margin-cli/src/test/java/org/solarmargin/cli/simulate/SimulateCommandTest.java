package org.solarmargin.cli.simulate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;

class SimulateCommandTest {

  @TempDir private Path folder;

  /** The committed demo flights are what the command makes, byte for byte. */
  @ParameterizedTest
  @ValueSource(strings = {"cloud-passage", "slow-fade", "gusty-hover"})
  void makesTheDemoFlights(String name) throws IOException {
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
