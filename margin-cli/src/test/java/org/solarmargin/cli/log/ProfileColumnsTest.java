package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/** A craft's profile states the names and units of its logs once; an option overrides it. */
class ProfileColumnsTest {

  private static final Path FLIGHT = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");

  @TempDir private Path folder;

  private Path renamed() throws IOException {
    StringBuilder text = new StringBuilder("stamp,u,i,thr\n");
    for (String line : Files.readAllLines(FLIGHT)) {
      if (!line.startsWith("time_s")) {
        String[] f = line.split(",", -1);
        BigDecimal millivolts = new BigDecimal(f[1]).movePointRight(3);
        text.append(f[0] + "," + millivolts + "," + f[2] + "," + f[3] + "\n");
      }
    }
    return Files.writeString(folder.resolve("renamed.csv"), text);
  }

  private Path profile(String lines) throws IOException {
    String text = Files.readString(Cli.STILT) + "\n" + lines;
    return Files.writeString(folder.resolve("craft.properties"), text);
  }

  private String estimates(Path log, Path craft, Object... more) throws IOException {
    Path out = folder.resolve("estimates.csv");
    Object[] args = new Object[6 + more.length];
    Object[] first = {"replay", log, "--craft", craft, "--estimates", out};
    System.arraycopy(first, 0, args, 0, 6);
    System.arraycopy(more, 0, args, 6, more.length);
    Cli run = Cli.run(args);
    assertEquals(0, run.status, run.out + run.err);
    return Files.readString(out);
  }

  @Test
  void aRenamedLogIsTheSameFlight() throws IOException {
    String names = "log.time_s = stamp:s\nlog.bus_a = i\nlog.throttle = thr\n";
    String expected = estimates(FLIGHT, Cli.STILT);
    Path log = renamed();
    assertSame(expected, estimates(log, profile(names + "log.bus_v = u:mV\n")));
    Path wrong = profile(names + "log.bus_v = other:V\n");
    assertSame(expected, estimates(log, wrong, "--column", "bus_v=u:mV"));
  }

  /** Volts converted from millivolts differ in the last bit. */
  private static void assertSame(String expected, String actual) {
    String[] mine = actual.split("\n", -1);
    String[] other = expected.split("\n", -1);
    assertEquals(other.length, mine.length, "lines");
    for (int i = 1; i < mine.length - 1; i++) {
      String[] a = mine[i].split(",", -1);
      String[] b = other[i].split(",", -1);
      assertEquals(b[1], a[1], mine[i]);
      assertEquals(Double.parseDouble(b[2]), Double.parseDouble(a[2]), 0.01, mine[i]);
    }
  }

  @Test
  void anUnknownUnitIsNamedWithItsKey() throws IOException {
    Cli run = Cli.run("replay", renamed(), "--craft", profile("log.bus_v = u:kV\n"));
    assertEquals(3, run.status);
    assertTrue(run.err.contains("log.bus_v must be in one of V, mV, cV: u:kV"), run.err);
  }
}
