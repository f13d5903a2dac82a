package org.solarmargin.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Samples of a demo flight, and logs as a faulty logger would write them. */
public final class FlightLog {

  /**
   * One sample.
   *
   * @param seconds s
   * @param volts V
   * @param amps A
   * @param throttle 0 to 1
   */
  public record Sample(double seconds, double volts, double amps, double throttle) {

    /** The sample with volts and amperes interchanged. */
    public Sample interchanged() {
      return new Sample(seconds, /* volts= */ amps, /* amps= */ volts, throttle);
    }

    /** The sample as a line of a log. */
    public String line() {
      return String.format(Locale.ROOT, "%.3f,%.3f,%.3f,%.4f", seconds, volts, amps, throttle);
    }
  }

  /** Converts a sample to a line. */
  public interface Change {
    /** The changed line of sample number i, from 0. */
    String line(int i, Sample sample);
  }

  /** Header of every log written here. */
  public static final String HEADER = "time_s,bus_v,bus_a,throttle";

  private FlightLog() {}

  /** The demo flights. */
  public static List<Path> demos() throws IOException {
    try (var files = Files.list(Cli.EXAMPLES.resolve("flights"))) {
      return files.filter(file -> file.toString().endsWith(".csv")).sorted().toList();
    }
  }

  /** Samples of a log whose first columns are those of the log format. */
  public static List<Sample> samples(Path log) throws IOException {
    List<Sample> samples = new ArrayList<>();
    for (String line : Files.readAllLines(log)) {
      if (!line.isEmpty() && Character.isDigit(line.charAt(0))) {
        String[] f = line.split(",", -1);
        samples.add(
            new Sample(
                Double.parseDouble(f[0]),
                Double.parseDouble(f[1]),
                Double.parseDouble(f[2]),
                Double.parseDouble(f[3])));
      }
    }
    return samples;
  }

  /** Replays a changed copy of a flight as a pilot would who fails it on a WARNING. */
  public static Cli replay(Path to, Path log, Change change) throws IOException {
    return Cli.run("replay", write(to, log, change), "--craft", Cli.STILT, "--fail-on", "WARNING");
  }

  /** Writes a changed copy; a null line is left out. */
  public static Path write(Path to, Path log, Change change) throws IOException {
    List<String> lines = new ArrayList<>(List.of(HEADER));
    List<Sample> samples = samples(log);
    for (int i = 0; i < samples.size(); i++) {
      String line = change.line(i, samples.get(i));
      if (line != null) {
        lines.add(line);
      }
    }
    return Files.write(to, lines);
  }
}
