package org.solarmargin.cli.watch;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Locale;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.OutputFault;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.cli.text.Decimals;

/**
 * What a watch has seen: a flight log that {@code replay} reads, with what was estimated and
 * alerted in columns that it passes over. Lines are appended and on the disk within a second.
 */
final class FlightLog implements Closeable {

  private static final String HEADER =
      "time_s,bus_v,bus_a,throttle,cell_c,status,available_w,available_low_w,throttle_ceiling,"
          + "level,alerts\n";
  private static final double SYNC_SECONDS = 0.5;

  private final Path path;
  private final FileChannel file;
  private final StringBuilder text = new StringBuilder(HEADER);
  private double synced;
  private boolean failed;

  /** Begins a log; never over a file that is there. */
  FlightLog(Path path) throws IOException {
    this.path = path;
    try {
      file = FileChannel.open(path, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (FileAlreadyExistsException e) {
      throw new InputFault(path + ": is there already: give another --log");
    }
  }

  /** Appends a row and what was made of it. */
  void write(Row row, Figures figures, Iterable<LiveFeed.Alert> alerts, double local)
      throws IOException {
    text.append(String.format(Locale.ROOT, "%.6f", row.nanos() * 1e-9)).append(',');
    number(row.volts(), 3);
    number(row.amps(), 3);
    number(row.throttle(), 4);
    number(row.celsius(), 2);
    text.append(figures.state()).append(',');
    number(figures.availableWatts(), 2);
    number(figures.lowWatts(), 2);
    number(figures.ceiling(), 4);
    text.append(figures.json().get("level").getAsString()).append(',');
    String between = "";
    for (LiveFeed.Alert alert : alerts) {
      text.append(between).append(alert.level()).append(alert.raised() ? " RAISED" : " CLEARED");
      between = "; ";
    }
    text.append('\n');
    if (local - synced >= SYNC_SECONDS) {
      sync();
      synced = local;
    }
  }

  private void number(double value, int decimals) {
    if (Double.isFinite(value)) {
      Decimals.append(text, value, decimals);
    }
    text.append(',');
  }

  /** Writes what is held back, and has it on the disk; nothing more after it has failed once. */
  void sync() throws IOException {
    if (failed) {
      return;
    }
    ByteBuffer bytes = ByteBuffer.wrap(text.toString().getBytes(StandardCharsets.UTF_8));
    text.setLength(0);
    try {
      while (bytes.hasRemaining()) {
        file.write(bytes);
      }
      file.force(false);
    } catch (IOException e) {
      failed = true;
      throw new OutputFault(path, e, "the log ends here");
    }
  }

  @Override
  public void close() throws IOException {
    sync();
    file.close();
  }
}
