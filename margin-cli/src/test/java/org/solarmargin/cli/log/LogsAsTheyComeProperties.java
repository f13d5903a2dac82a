package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.file.InputFault;

/** A flight reads the same in any separator, decimal mark, header, unit and form of time. */
class LogsAsTheyComeProperties {

  private static final double CLOSE = 1e-5;

  enum Separator {
    COMMA(","),
    SEMICOLON(";"),
    TAB("\t");

    private final String text;

    Separator(String text) {
      this.text = text;
    }
  }

  enum Stamp {
    SECONDS("time_s"),
    MILLIS("Time [ms]"),
    CLOCK("time"),
    DATE("Timestamp"),
    EPOCH_MILLIS("timestamp"),
    EPOCH_MICROS("t");

    private final String header;

    Stamp(String header) {
      this.header = header;
    }

    String text(double seconds) {
      long millis = Math.round(1000 * seconds);
      return switch (this) {
        case SECONDS -> String.format(Locale.ROOT, "%.3f", seconds);
        case MILLIS -> Long.toString(millis);
        case CLOCK -> clock(86_399_000 + millis);
        case DATE -> Instant.ofEpochMilli(1_782_000_000_000L + millis).toString();
        case EPOCH_MILLIS -> Long.toString(1_782_000_000_000L + millis);
        case EPOCH_MICROS -> Long.toString(1_782_000_000_000_000L + 1000 * millis);
      };
    }

    private static String clock(long millis) {
      long s = millis / 1000 % 86_400;
      return String.format(
          Locale.ROOT, "%02d:%02d:%02d.%03d", s / 3600, s / 60 % 60, s % 60, millis % 1000);
    }
  }

  enum Power {
    OWN("bus_v", 1, "bus_a", 1),
    UPPER("BUS_V", 1, "Bus_A", 1),
    BRACKETS("Voltage (V)", 1, "Curr [cA]", 100),
    MILLI("bus_v (mV)", 1000, "bus_a [mA]", 1000);

    private final String volts;
    private final double perVolt;
    private final String amps;
    private final double perAmp;

    Power(String volts, double perVolt, String amps, double perAmp) {
      this.volts = volts;
      this.perVolt = perVolt;
      this.amps = amps;
      this.perAmp = perAmp;
    }
  }

  enum Throttle {
    FRACTION("throttle", 1, 0),
    PERCENT("throttle", 100, 0),
    PERMILLE("thr", 1000, 0),
    PULSE("throttle", 1000, 1000),
    STATED("throttle (%)", 100, 0);

    private final String header;
    private final double scale;
    private final double offset;

    Throttle(String header, double scale, double offset) {
      this.header = header;
      this.scale = scale;
      this.offset = offset;
    }
  }

  private static final List<double[]> FLIGHT = flight();

  private static List<double[]> flight() {
    try {
      List<double[]> rows = new ArrayList<>();
      for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"))) {
        if (!line.startsWith("time_s") && rows.size() < 300) {
          String[] f = line.split(",", -1);
          rows.add(
              new double[] {
                Double.parseDouble(f[0]),
                Double.parseDouble(f[1]),
                Double.parseDouble(f[2]),
                Double.parseDouble(f[3])
              });
        }
      }
      return rows;
    } catch (IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }

  private static String number(double value, boolean decimalComma) {
    String text = String.format(Locale.ROOT, "%.4f", value);
    return decimalComma ? text.replace('.', ',') : text;
  }

  @Property(tries = 200)
  void everyFormGivesTheSameFlight(
      @ForAll Separator separator,
      @ForAll boolean decimalComma,
      @ForAll Stamp stamp,
      @ForAll Power power,
      @ForAll Throttle throttle)
      throws IOException {
    boolean comma = decimalComma && separator != Separator.COMMA;
    List<String> lines = new ArrayList<>();
    lines.add(
        String.join(separator.text, stamp.header, power.volts, throttle.header, "x", power.amps));
    for (double[] row : FLIGHT) {
      String time = stamp.text(row[0]);
      lines.add(
          String.join(
              separator.text,
              comma ? time.replace('.', ',') : time,
              number(row[1] * power.perVolt, comma),
              number(row[3] * throttle.scale + throttle.offset, comma),
              "any",
              number(row[2] * power.perAmp, comma)));
    }
    Path file = Files.createTempFile("log", ".csv");
    try {
      Files.write(file, lines);
      try (LogReader reader = new LogReader(file, new ColumnMap(List.of()))) {
        double start = Double.NaN;
        for (double[] row : FLIGHT) {
          assertTrue(reader.next());
          double time = reader.value(Column.TIME);
          start = Double.isNaN(start) ? time - row[0] : start;
          assertEquals(row[0], time - start, CLOSE);
          assertEquals(row[1], reader.value(Column.VOLTS), CLOSE * row[1]);
          assertEquals(row[2], reader.value(Column.AMPS), 1e-3);
          assertEquals(row[3], reader.value(Column.THROTTLE), 1e-4);
        }
        assertFalse(reader.next());
        boolean own =
            separator == Separator.COMMA
                && stamp == Stamp.SECONDS
                && power == Power.OWN
                && throttle == Throttle.FRACTION;
        assertEquals(
            own, reader.notes().isEmpty(), "what is recognised is reported: " + reader.notes());
      }
    } finally {
      Files.delete(file);
    }
  }

  @Example
  void twoColumnsOfOneNameAreRefused() throws IOException {
    Path file = Files.createTempFile("log", ".csv");
    Files.writeString(file, "time_s;Voltage (V);voltage [mV];bus_a;throttle\n0;28;28;2;0,5\n");
    InputFault fault =
        assertThrows(InputFault.class, () -> new LogReader(file, new ColumnMap(List.of())));
    assertTrue(fault.getMessage().contains("occurs twice, as fields 2 and 3"), "" + fault);
    Files.writeString(file, "time_s,Voltage (furlong),bus_a,throttle\n0,28,2,0.5\n");
    InputFault unit =
        assertThrows(InputFault.class, () -> new LogReader(file, new ColumnMap(List.of())));
    assertTrue(unit.getMessage().contains("must be in one of V, mV, cV"), "" + unit);
    Files.delete(file);
  }

  @Example
  void otherFormatsAreNamedWithoutBinaryOutput() throws IOException {
    Path file = Files.createTempFile("log", ".csv");
    Files.write(file, new byte[] {'P', 'K', 3, 4, 27, 7, 0, 1});
    Cli run = Cli.run("replay", file, "--craft", Cli.STILT);
    assertEquals(3, run.status);
    assertTrue(run.err.contains("is a ZIP archive or a spreadsheet"), run.err);
    assertTrue(run.err.chars().allMatch(c -> c >= ' ' || c == '\n'), "control characters");
    Files.delete(file);
  }
}
