package org.solarmargin.cli.fit;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicInteger;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.play.LogFiles;
import org.solarmargin.cli.text.Lines;
import org.solarmargin.cli.text.Progress;
import org.solarmargin.cli.text.WholeFile;

/** All sweeps of a folder, one line each; what cannot be used gets its reason instead. */
final class SweepFolder {

  /** What came of one file: a fit, or why not. */
  private record Line(Path file, FitResult fit, String refusal) {}

  private static final List<String> HEADER =
      List.of(
          "sweep",
          "state",
          "isc_a",
          "voc_v",
          "imp_a",
          "vmp_v",
          "pmp_w",
          "fill_factor",
          "pmp_stc_w",
          "photocurrent_a",
          "saturation_a",
          "ideality",
          "series_ohm",
          "shunt_ohm",
          "rms_a",
          "reason");

  private final Path folder;
  private final SweepOptions options;
  private final Lines out;
  private final PrintWriter err;

  SweepFolder(Path folder, SweepOptions options, PrintWriter out, PrintWriter err) {
    this.folder = folder;
    this.options = options;
    this.out = new Lines(out);
    this.err = err;
  }

  void run(Path table) throws IOException {
    List<Path> files = LogFiles.inside(folder, "sweeps");
    AtomicInteger done = new AtomicInteger();
    List<Line> lines;
    try (Progress progress = new Progress(err, Progress.terminal(), "fitting", files.size())) {
      lines =
          files.parallelStream()
              .map(
                  file -> {
                    Line line = fit(file);
                    int count = done.incrementAndGet();
                    synchronized (progress) {
                      progress.step(count);
                    }
                    return line;
                  })
              .toList();
    }
    print(lines);
    if (table != null) {
      WholeFile.write(table, file -> write(lines, file.writer()));
      out.text("table  " + table);
    }
    out.flush();
  }

  private Line fit(Path file) {
    try {
      return new Line(file, options.fitFile(file), "");
    } catch (InputFault fault) {
      return new Line(file, null, fault.getMessage());
    }
  }

  private void print(List<Line> lines) {
    out.line("%-28s %8s %8s %9s %9s %9s", "sweep", "Isc A", "Voc V", "Pmp W", "n", "rms A");
    int refused = 0;
    for (Line line : lines) {
      String name = line.file().getFileName().toString();
      if (line.fit() == null) {
        refused++;
        out.line("%-28s %s", name, shortened(line));
        continue;
      }
      double[] c = here(line.fit());
      out.line(
          "%-28s %8.4g %8.4g %9.5g %9.4g %9.3g",
          name, c[0], c[1], c[4], line.fit().cell().ideality(), line.fit().rms());
    }
    out.blank();
    out.line("%d sweeps fitted, %d refused", lines.size() - refused, refused);
  }

  /** The reason without the file's name, which stands before it. */
  private static String shortened(Line line) {
    String full = line.file().toString();
    String name = line.file().getFileName().toString();
    String text = line.refusal();
    for (String prefix : List.of(full, name)) {
      if (text.startsWith(prefix)) {
        text = text.substring(prefix.length());
      }
    }
    return "refused" + (text.startsWith(":") ? text : ":" + text);
  }

  private static double[] here(FitResult fit) {
    return FitText.characteristics(fit.array(fit.sweep().meanSuns(), fit.sweep().meanCelsius()));
  }

  private static void write(List<Line> lines, Writer to) throws IOException {
    CsvWriter csv = CsvWriter.builder().lineDelimiter(LineDelimiter.LF).build(to);
    csv.writeRecord(HEADER);
    for (Line line : lines) {
      csv.writeRecord(line.fit() == null ? refused(line) : fitted(line));
    }
    csv.flush();
  }

  private static List<String> refused(Line line) {
    List<String> record = new ArrayList<>(Collections.nCopies(HEADER.size(), ""));
    record.set(0, line.file().getFileName().toString());
    record.set(1, line.refusal().contains("STEPPED") ? "STEPPED" : "REFUSED");
    record.set(HEADER.size() - 1, shortened(line));
    return record;
  }

  private static List<String> fitted(Line line) {
    FitResult fit = line.fit();
    double[] c = here(fit);
    double[] v = fit.values();
    String figures =
        String.format(
            Locale.ROOT,
            "%.6g,%.6g,%.6g,%.6g,%.6g,%.5f,%.6g,%.7g,%.7g,%.6g,%.6g,%.6g,%.9e",
            c[0],
            c[1],
            c[2],
            c[3],
            c[4],
            c[5],
            fit.array(1, 25).peakWatts(),
            v[0],
            v[1],
            v[2],
            v[3],
            v[4],
            fit.rms());
    List<String> record = new ArrayList<>();
    record.add(line.file().getFileName().toString());
    record.add("FITTED");
    record.addAll(List.of(figures.split(",", -1)));
    record.add("");
    return record;
  }
}
