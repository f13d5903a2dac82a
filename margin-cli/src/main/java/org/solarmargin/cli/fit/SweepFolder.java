package org.solarmargin.cli.fit;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.file.Path;
import java.util.List;
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

  private void write(List<Line> lines, Writer to) throws IOException {
    ProfileLines.line(
        to,
        "sweep,state,isc_a,voc_v,imp_a,vmp_v,pmp_w,fill_factor,pmp_stc_w,photocurrent_a,"
            + "saturation_a,ideality,series_ohm,shunt_ohm,rms_a,reason");
    for (Line line : lines) {
      String name = quoted(line.file().getFileName().toString());
      if (line.fit() == null) {
        String state = line.refusal().contains("STEPPED") ? "STEPPED" : "REFUSED";
        ProfileLines.line(to, "%s,%s,,,,,,,,,,,,,,%s", name, state, quoted(shortened(line)));
        continue;
      }
      double[] c = here(line.fit());
      double[] v = line.fit().values();
      ProfileLines.line(
          to,
          "%s,FITTED,%.6g,%.6g,%.6g,%.6g,%.6g,%.5f,%.6g,%.7g,%.7g,%.6g,%.6g,%.6g,%.9e,",
          name,
          c[0],
          c[1],
          c[2],
          c[3],
          c[4],
          c[5],
          line.fit().array(1, 25).peakWatts(),
          v[0],
          v[1],
          v[2],
          v[3],
          v[4],
          line.fit().rms());
    }
  }

  private static String quoted(String text) {
    boolean plain = text.indexOf(',') < 0 && text.indexOf('"') < 0 && text.indexOf('\n') < 0;
    return plain ? text : '"' + text.replace("\"", "\"\"") + '"';
  }
}
