package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.profile.CraftProfile;

/** A watch that is restarted within a minute continues from its saved state. */
class StateFileTest {

  private static final long WALL = 1_700_000_000_000L;

  @TempDir private Path folder;

  private Path craft;
  private Path file;

  @BeforeEach
  void save() throws IOException {
    craft = Files.copy(Cli.STILT, folder.resolve("craft.properties"));
    file = folder.resolve("state");
    LiveFeed feed = feed();
    fly(feed, 0, 1000, 500);
    new StateFile(file, craft).save(feed.monitor(), 520, WALL);
  }

  private LiveFeed feed() throws IOException {
    return new LiveFeed(CraftProfile.read(craft));
  }

  private static void fly(LiveFeed feed, int from, int to, double local) throws IOException {
    List<String> rows =
        Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv")).stream()
            .filter(line -> line.matches("[0-9].*"))
            .toList();
    for (int i = from; i < to; i++) {
      String[] f = rows.get(i).split(",", -1);
      double time = Double.parseDouble(f[0]);
      feed.take(
          new Row(
              Math.round(time * 1e9),
              Double.parseDouble(f[1]),
              Double.parseDouble(f[2]),
              Double.parseDouble(f[3]),
              Double.NaN),
          local + time);
    }
  }

  private String resume(LiveFeed feed, double secondsLater) throws IOException {
    return new StateFile(file, craft).resume(feed, 700, WALL + Math.round(1000 * secondsLater));
  }

  @Test
  void theEstimatorNeedNotWarmUp() throws IOException {
    LiveFeed fresh = feed();
    fly(fresh, 1500, 1530, 700 - 30);
    assertEquals(Status.WARMING_UP, fresh.monitor().reading().status());
    LiveFeed again = feed();
    assertEquals("", resume(again, 10));
    assertEquals(LiveFeed.Resumption.WAITING, again.resumption());
    fly(again, 1500, 1530, 700 - 30);
    assertEquals(LiveFeed.Resumption.DONE, again.resumption());
    assertTrue(again.known(700.6), again.monitor().reading().status().toString());
    LiveFeed whole = feed();
    fly(whole, 0, 1530, 0);
    assertEquals(
        whole.monitor().reading().availableWatts(),
        again.monitor().reading().availableWatts(),
        0.1 * whole.monitor().reading().availableWatts(),
        "ten seconds without data, then 0.6 s of the same flight");
  }

  @Test
  void oldForeignDamagedAndFutureStatesAreRefused() throws IOException {
    assertTrue(resume(feed(), 60.5).contains("older than 60 s"));
    assertTrue(resume(feed(), -1).contains("from the future"));
    LiveFeed late = feed();
    assertEquals("", resume(late, 50));
    fly(late, 1500, 1501, 700 - 30 + 20);
    assertEquals(LiveFeed.Resumption.TOO_OLD, late.resumption(), "the first row comes too late");
    byte[] whole = Files.readAllBytes(file);
    whole[whole.length - 40] ^= 1;
    Files.write(file, whole);
    LiveFeed damaged = feed();
    assertEquals("", resume(damaged, 10));
    fly(damaged, 1500, 1501, 700 - 30);
    assertEquals(LiveFeed.Resumption.REFUSED, damaged.resumption());
    Files.write(file, java.util.Arrays.copyOf(whole, whole.length - 1));
    assertTrue(resume(feed(), 10).contains("damaged"));
    Files.write(file, whole);
    Files.writeString(
        craft, Files.readString(craft) + "\ncraft.name = Other\n".replace("craft.name", "# name"));
    assertTrue(resume(feed(), 10).contains("another profile"));
  }

  @Test
  void aFileThatIsNotAStateIsNotOverwritten() throws IOException {
    Path log = Files.writeString(folder.resolve("log.csv"), "time_s,bus_v\n");
    InputFault fault = assertThrows(InputFault.class, () -> new StateFile(log, craft));
    assertTrue(fault.getMessage().contains("is not a state written by watch"), fault.getMessage());
    Path empty = Files.createFile(folder.resolve("empty"));
    new StateFile(empty, craft).save(feed().monitor(), 0, WALL);
    assertFalse(Files.size(empty) == 0);
  }

  @Test
  void aWatchWritesAndRestoresItsState() throws Exception {
    Path state = folder.resolve("watched");
    List<String> lines = Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv"));
    var before = System.in;
    try {
      for (int run = 0; run < 2; run++) {
        System.setIn(
            new java.io.ByteArrayInputStream(
                String.join("\n", lines.subList(0, 800))
                    .getBytes(java.nio.charset.StandardCharsets.UTF_8)));
        Cli watch = Cli.run("watch", "--craft", craft, "--from", "-", "--state", state);
        assertEquals(0, watch.status, watch.err);
        assertEquals(run == 1, watch.err.contains("restored: the estimator continues"), watch.err);
      }
    } finally {
      System.setIn(before);
    }
  }
}
