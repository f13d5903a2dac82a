package org.solarmargin.cli.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

class TrialCommandTest {

  @TempDir private Path folder;

  private Cli trial(String name, Object... more) {
    Object[] args = {
      "trial",
      Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
      "--craft",
      Cli.STILT,
      "--flights",
      2,
      "--out",
      folder.resolve(name + ".csv"),
      "--report",
      folder.resolve(name + ".html")
    };
    Object[] all = new Object[args.length + more.length];
    System.arraycopy(args, 0, all, 0, args.length);
    System.arraycopy(more, 0, all, args.length, more.length);
    Cli run = Cli.run(all);
    assertEquals(0, run.status, run.err);
    return run;
  }

  private String read(String file) throws IOException {
    return Files.readString(folder.resolve(file));
  }

  @Test
  void drawnLoggersAreReproducibleAndReported() throws IOException {
    Cli one = trial("one", "--logger", "--threads", 1);
    Cli two = trial("two", "--logger", "--threads", 2);
    assertEquals(one.out, two.out);
    assertEquals(read("one.csv"), read("two.csv"));
    assertTrue(
        one.out.startsWith("Craft Stilt, seed 1, simulated flights, loggers drawn"), one.out);
    assertTrue(read("one.html").contains("seed 1, loggers drawn"));
    Cli other = trial("other", "--logger", "--seed", 2);
    assertNotEquals(one.out, other.out);
  }

  @Test
  void withoutTheSwitchNoLoggerIsDrawn() throws IOException {
    Cli plain = trial("plain");
    assertFalse(plain.out.contains("logger"), plain.out);
    assertFalse(read("plain.html").contains("loggers drawn"));
    trial("drawn", "--logger");
    assertNotEquals(read("plain.csv"), read("drawn.csv"));
  }

  @Test
  void helpStatesTheRanges() {
    String help = Cli.run("trial", "--help").out.replaceAll("\\s+", " ");
    for (String range :
        new String[] {
          "filter of volts and amperes 0 to 0.3 s, up to 0.1 s apart",
          "delay of each 0 to 0.08 s",
          "fresh readings at 5 to 50 Hz",
          "rounding 0 to 0.05 V and A, and 0 to 0.01 of throttle",
          "lag of the command 0 to 0.1 s, its delay 0 to 0.06 s"
        }) {
      assertTrue(help.contains(range), range + " in " + help);
    }
  }
}
