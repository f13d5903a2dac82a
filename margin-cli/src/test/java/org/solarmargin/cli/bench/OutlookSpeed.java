package org.solarmargin.cli.bench;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import org.solarmargin.cli.Main;

/**
 * Measures a day of an outlook in steps of a minute, a year of days, and a sizing, in one process.
 * It measures the processor time of the working thread, so that other programs on the machine have
 * no influence.
 */
public final class OutlookSpeed {

  private static final int WARM = 101;
  private static final int FEW = 7;
  private static final ThreadMXBean CLOCK = ManagementFactory.getThreadMXBean();

  private OutlookSpeed() {}

  /**
   * Prints first and median times, of 101 rounds for the day and of 7 for the others.
   *
   * @param args profile
   * @throws Exception if a file cannot be written
   */
  public static void main(String[] args) throws Exception {
    Path folder = Files.createTempDirectory("outlook");
    String[] craft = {"outlook", "--craft", args[0], "--at", "53.7,7.7", "--date", "2026-06-21"};
    time(WARM, "day, 1-minute steps", with(craft, "--step", "1"));
    time(FEW, "year of days", with(craft, "--season"));
    time(FEW, "day, what-if and page", with(craft, "--what-if", "--report", folder + "/day.html"));
    String[] size = {
      "size",
      "--mass-kg",
      "1.05",
      "--diameter-m",
      "0.5588",
      "--isc",
      "6.02",
      "--voc",
      "0.683",
      "--imp",
      "5.70",
      "--vmp",
      "0.574",
      "--at",
      "53.7,7.7",
      "--date",
      "2026-06-21"
    };
    time(FEW, "size", size);
  }

  private static String[] with(String[] words, String... more) {
    String[] all = Arrays.copyOf(words, words.length + more.length);
    System.arraycopy(more, 0, all, words.length, more.length);
    return all;
  }

  private static void time(int rounds, String name, String... words) {
    double[] seconds = new double[rounds];
    for (int i = 0; i < rounds; i++) {
      PrintWriter nowhere = new PrintWriter(new StringWriter());
      long start = CLOCK.getCurrentThreadCpuTime();
      int status = Main.run(words, nowhere, nowhere);
      seconds[i] = (CLOCK.getCurrentThreadCpuTime() - start) * 1e-9;
      if (status != 0) {
        throw new IllegalStateException(name + " must end with status 0: " + status);
      }
    }
    double first = seconds[0];
    Arrays.sort(seconds);
    System.out.printf(
        Locale.ROOT, "%s: first %.3f s, median %.3f s%n", name, first, seconds[rounds / 2]);
  }
}
