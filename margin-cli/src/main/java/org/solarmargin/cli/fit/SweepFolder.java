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
import java.util.Objects;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;
import org.solarmargin.cli.file.AtomicFile;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.fit.sweep.CheckedFit;
import org.solarmargin.cli.fit.sweep.FitOptions;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.Sweep;
import org.solarmargin.cli.fit.sweep.SweepRefusal;
import org.solarmargin.cli.fit.sweep.SweepSet;
import org.solarmargin.cli.fit.sweep.SweepState;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.cli.playback.LogFiles;
import org.solarmargin.core.cell.CellParameters;

/**
 * Several sweeps, one line each; a sweep that cannot be used is listed with the reason. The usable
 * ones are then fitted together as one array.
 */
final class SweepFolder {

  /**
   * A sweep to be read.
   *
   * @param name shown to the user
   * @param path its file, as named in messages
   * @param read reads it; throws an {@link InputFault} if that fails
   */
  record Source(String name, String path, Supplier<Sweep> read) {}

  /** The result of one sweep: a fit, or the reason why there is none. */
  private record Line(Source source, FitResult fit, SweepState state, String refusal) {}

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
          "undetermined",
          "reason");

  private final List<Source> sources;
  private final FitOptions options;
  private final Lines out;
  private final PrintWriter printed;
  private final PrintWriter err;

  SweepFolder(List<Source> sources, FitOptions options, PrintWriter out, PrintWriter err) {
    this.sources = sources;
    this.options = options;
    this.out = new Lines(out);
    this.printed = out;
    this.err = err;
  }

  /** All CSV files of a folder. */
  static List<Source> files(Path folder, SweepOptions options) {
    return LogFiles.inside(folder, ".csv", "sweeps").stream()
        .map(
            file ->
                new Source(
                    file.getFileName().toString(), file.toString(), () -> options.read(file)))
        .toList();
  }

  /** The sweeps of one file. */
  static List<Source> parts(List<Sweep> parts) {
    return parts.stream().map(part -> new Source(part.name(), part.name(), () -> part)).toList();
  }

  /**
   * Fits and prints.
   *
   * @param table receives a line for each sweep; null for none
   * @param fragment receives the profile lines of the joint fit; null for none
   * @param into profile to change; null for none
   */
  void run(OutputFile table, OutputFile fragment, OutputFile into) throws IOException {
    AtomicInteger done = new AtomicInteger();
    List<Line> lines;
    try (Progress progress = new Progress(err, Progress.terminal(), "fitting", sources.size())) {
      lines =
          sources.parallelStream()
              .map(
                  source -> {
                    Line line = fit(source);
                    int count = done.incrementAndGet();
                    synchronized (progress) {
                      progress.step(count);
                    }
                    return line;
                  })
              .toList();
    }
    print(lines);
    List<FitResult> fits = lines.stream().map(Line::fit).filter(Objects::nonNull).toList();
    if ((fragment != null || into != null) && fits.isEmpty()) {
      throw new InputFault(
          "no sweep can be used, so there are no profile lines to write: see the reasons above");
    }
    if (fits.size() > 1) {
      SweepSet set = new SweepSet(fits, options);
      new SweepSetText(out).print(set, options, FitCautions.of(set.joint(), into));
      write(fragment, into, to -> ProfileLines.cell(set, to));
    } else if (fits.size() == 1) {
      FitCautions.print(FitCautions.of(fits.get(0), into), out);
      write(fragment, into, to -> ProfileLines.cell(fits.get(0), to));
    }
    if (table != null) {
      AtomicFile.write(table.path(), file -> write(lines, file.writer()));
      out.text("table  " + table);
    }
    out.flush();
  }

  private void write(OutputFile fragment, OutputFile into, IntoProfile.Content content)
      throws IOException {
    if (into != null) {
      new IntoProfile(into, printed).put(content, IntoProfile.DATA_SHEET, "fit array");
    }
    if (fragment != null) {
      AtomicFile.write(fragment.path(), file -> content.write(file.writer()));
      out.line(
          "Profile lines of the joint fit in %s: replace the profile's cell.* with them", fragment);
    }
  }

  private Line fit(Source source) {
    try {
      FitResult fit = CheckedFit.of(source.read().get(), options);
      return new Line(source, fit, SweepState.FITTED, "");
    } catch (SweepRefusal refusal) {
      return new Line(source, null, refusal.state(), refusal.getMessage());
    } catch (InputFault fault) {
      return new Line(source, null, SweepState.REFUSED, fault.getMessage());
    }
  }

  private void print(List<Line> lines) {
    out.line("%-28s %8s %8s %9s %9s %9s", "sweep", "Isc A", "Voc V", "Pmp W", "n", "rms A");
    int refused = 0;
    for (Line line : lines) {
      String name = line.source().name();
      if (line.fit() == null) {
        refused++;
        out.line("%-28s %s", name, shortened(line));
        continue;
      }
      double[] c = here(line.fit());
      out.line(
          "%-28s %8.4g %8.4g %9.5g %9.4g %9.3g",
          name, c[0], c[1], c[4], line.fit().cell().ideality(), line.fit().rms());
      if (!remarks(line.fit()).isEmpty()) {
        out.line("%-28s %s", "", remarks(line.fit()));
      }
    }
    out.blank();
    out.line("%d sweeps fitted, %d refused", lines.size() - refused, refused);
  }

  private static String remarks(FitResult fit) {
    List<String> remarks = new ArrayList<>(fit.sweep().leftOut());
    if (!fit.undetermined().isEmpty()) {
      remarks.add("not determined: " + String.join(", ", fit.undetermined()));
    }
    return String.join("; ", remarks);
  }

  /** The reason without the file name, which is printed in front of it. */
  private static String shortened(Line line) {
    String full = line.source().path();
    String name = line.source().name();
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
    record.set(0, line.source().name());
    record.set(1, line.state().name());
    record.set(HEADER.size() - 1, shortened(line));
    return record;
  }

  private static List<String> fitted(Line line) {
    FitResult fit = line.fit();
    double[] c = here(fit);
    CellParameters cell = fit.cell();
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
            cell.photocurrentAmps(),
            cell.saturationAmps(),
            cell.ideality(),
            cell.seriesOhms(),
            cell.shuntOhms(),
            fit.rms());
    List<String> record = new ArrayList<>();
    record.add(line.source().name());
    record.add(line.state().name());
    record.addAll(List.of(figures.split(",", -1)));
    record.add(String.join(" ", fit.undetermined()));
    record.add(String.join("; ", fit.sweep().leftOut()));
    return record;
  }
}
