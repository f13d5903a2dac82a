package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.PipedInputStream;
import java.io.PipedOutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/**
 * JSON lines and any separator on standard input give the same result as commas for the same
 * flight.
 */
class TextInputTest {

  @TempDir private Path folder;

  /** The logger's timing is stated, so that no time model is searched for. */
  private Path craft() {
    try {
      return Files.writeString(
          folder.resolve("craft.properties"),
          Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private Cli watch(InputStream in, Object... more) {
    InputStream before = System.in;
    System.setIn(in);
    try {
      Object[] words = {"watch", "--craft", craft(), "--from", "-"};
      Object[] all = java.util.Arrays.copyOf(words, words.length + more.length);
      System.arraycopy(more, 0, all, words.length, more.length);
      return Cli.run(all);
    } finally {
      System.setIn(before);
    }
  }

  private static InputStream text(String text) {
    return new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
  }

  private static List<String> rows() throws IOException {
    return Files.readAllLines(Cli.EXAMPLES.resolve("flights/cloud-passage.csv")).stream()
        .filter(line -> line.matches("[0-9].*"))
        .toList();
  }

  private static String json(String row, String volts) {
    String[] f = row.split(",", -1);
    return "{\"throttle\": %s, \"%s\":%s,\"note\":\"a, \\\"b\\\"\",\"bus_a\":%s,\"time_s\":%s}"
        .formatted(f[3], volts, f[1], f[2], f[0]);
  }

  @Test
  void theSameFlightIsWatchedTheSame() throws IOException {
    Path fromCsv = folder.resolve("csv.csv");
    Path fromJson = folder.resolve("json.csv");
    String csv = Files.readString(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"));
    assertEquals(0, watch(text(csv), "--log", fromCsv).status);
    String lines =
        rows().stream().map(row -> json(row, "U")).collect(Collectors.joining("\n", "\n  ", ""));
    Cli run = watch(text(lines), "--log", fromJson, "--column", "bus_v=U");
    assertEquals(0, run.status, run.err);
    assertEquals(Files.readAllLines(fromCsv), Files.readAllLines(fromJson));
  }

  /** The reading rules are those of a replay. */
  @Test
  void semicolonsAndDecimalCommasAreRecognised() throws IOException {
    Path plain = folder.resolve("comma.csv");
    Path german = folder.resolve("semicolon.csv");
    String csv = Files.readString(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"));
    assertEquals(0, watch(text(csv), "--log", plain).status);
    Cli run = watch(text(semicolons(csv)), "--log", german, "--json");
    assertEquals(0, run.status, run.err);
    assertEquals(Files.readAllLines(plain), Files.readAllLines(german));
    assertTrue(run.err.contains("standard input: fields separated by semicolons"), run.err);
    for (String line : run.out.lines().toList()) {
      assertTrue(line.matches("\\{\"time_s\":[0-9]+[.][0-9]{1,6},.*"), line);
    }
  }

  private static String semicolons(String csv) {
    return csv.replace(',', ';').replace('.', ',');
  }

  /** Its range is not known before the flight ends. */
  @Test
  void aThrottleAboveOneIsReportedOnce() throws IOException {
    String percent =
        rows().stream()
            .limit(100)
            .map(row -> row.split(",", -1))
            .map(f -> f[0] + "," + f[1] + "," + f[2] + "," + 100 * Double.parseDouble(f[3]) + "\n")
            .collect(Collectors.joining("", "time_s,bus_v,bus_a,throttle\n", ""));
    Cli run = watch(text(percent));
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains("throttle is outside 0 to 1: "), run.err);
    assertTrue(run.err.contains("--column throttle=HEADER:UNIT"), run.err);
    Cli stated = watch(text(percent), "--column", "throttle=throttle:pct");
    assertEquals("", stated.err);
  }

  @Test
  void readingsInAnotherUnitAreReportedOnce() throws IOException {
    for (String unit : new String[] {"bus_v=bus_v:mV", "bus_a=bus_a:mA"}) {
      double volts = unit.contains("mV") ? 1000 : 1;
      double amps = unit.contains("mA") ? 1000 : 1;
      String csv =
          rows().stream()
              .limit(300)
              .map(row -> row.split(",", -1))
              .map(
                  f ->
                      f[0]
                          + ","
                          + volts * Double.parseDouble(f[1])
                          + ","
                          + amps * Double.parseDouble(f[2])
                          + ","
                          + f[3]
                          + "\n")
              .collect(Collectors.joining("", "time_s,bus_v,bus_a,throttle\n", ""));
      Cli run = watch(text(csv));
      assertEquals(1, run.err.lines().count(), run.err);
      assertTrue(run.err.contains("add --column " + unit), run.err);
      assertEquals("", watch(text(csv), "--column", unit).err);
    }
  }

  @Test
  void anythingButAnObjectGivesOneClearLine() throws IOException {
    String rows =
        rows().stream().limit(500).map(row -> json(row, "bus_v")).collect(Collectors.joining("\n"));
    Cli one = watch(text(rows.replaceFirst("\"time_s\":5[.]0+[}]", "oops")));
    assertEquals(0, one.status, "one damaged line in a hundred is tolerated: " + one.err);
    Cli all = watch(text("{]\n".repeat(10)));
    assertEquals(3, all.status, all.err);
    assertEquals(1, all.err.lines().count(), all.err);
    assertTrue(all.err.contains("standard input line 2: time_s must be a number"), all.err);
    assertTrue(all.err.contains("not a JSON object: {]"), all.err);
  }

  /** A line is reported when it arrives, not when the next one does. */
  @Test
  void aLineIsProcessedBeforeTheNextArrives() throws Exception {
    for (String form : List.of("csv", "json", "semicolons")) {
      boolean asJson = form.equals("json");
      boolean split = form.equals("semicolons");
      Path log = folder.resolve("live-" + form + ".csv");
      PipedOutputStream out = new PipedOutputStream();
      PipedInputStream in = new PipedInputStream(out, 1 << 16);
      CompletableFuture<Cli> watch = CompletableFuture.supplyAsync(() -> watch(in, "--log", log));
      List<String> rows = rows();
      String header = "time_s,bus_v,bus_a,throttle\n";
      out.write(
          (asJson ? "" : split ? semicolons(header) : header).getBytes(StandardCharsets.UTF_8));
      for (int i = 0; i < 3; i++) {
        String plain = split ? semicolons(rows.get(i)) : rows.get(i);
        String row = asJson ? json(rows.get(i), "bus_v") : plain;
        out.write((row + "\n").getBytes(StandardCharsets.UTF_8));
      }
      out.flush();
      String third = rows.get(2).split(",", -1)[0];
      boolean there = false;
      for (int i = 0; i < 100 && !there; i++) {
        Thread.sleep(50);
        there =
            Files.exists(log)
                && Files.readAllLines(log).stream()
                    .skip(1)
                    .map(line -> line.split(",", -1))
                    .anyMatch(
                        f ->
                            !f[1].isEmpty()
                                && Double.parseDouble(f[0]) == Double.parseDouble(third));
      }
      out.close();
      assertEquals(0, watch.get().status);
      assertTrue(there, "the third line of three, " + form);
    }
  }
}
