package org.solarmargin.cli.watch;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.file.OutputFault;
import org.solarmargin.cli.format.Decimals;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.log.LogStart;
import org.solarmargin.cli.mavlink.Row;

/**
 * The log of a watch: a flight log that {@code replay} can read, with estimates and alerts in
 * additional columns, which it ignores. Lines are appended and reach the disk within a second.
 */
final class FlightLog implements Closeable {

  private static final String HEADER =
      "time_s,bus_v,bus_a,throttle,cell_c,status,available_w,available_low_w,throttle_ceiling,"
          + "level,alerts\n";
  private static final double SYNC_SECONDS = 0.5;
  private static final int MOST_FILES = 999;

  private final Path path;
  private Path at;
  private final StringBuilder text = new StringBuilder();
  private FileChannel file;
  private final boolean live;
  private boolean stamped;
  private double synced;
  private double written;
  private boolean failed;

  /**
   * Begins a log; never overwrites an existing file.
   *
   * @param live whether rows arrive in real time; a comment then states when the first one arrived
   */
  FlightLog(Path path, boolean live) throws IOException {
    this.path = path;
    this.live = live;
    try {
      begin(path);
    } catch (FileAlreadyExistsException e) {
      throw new InputFault(path + ": exists already: give another --log");
    } catch (FileSystemException e) {
      throw new OutputFault(path, e, "nothing is watched");
    }
  }

  private void begin(Path next) throws IOException {
    at = next;
    file = FileChannel.open(at, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    text.append(HEADER);
    stamped = !live;
    sync();
  }

  /** Continues in a new file, NAME-002.csv or the next free number. */
  Path nextFile() throws IOException {
    String name = path.getFileName().toString();
    int dot = name.lastIndexOf('.') > 0 ? name.lastIndexOf('.') : name.length();
    close();
    for (int number = 2; number <= MOST_FILES; number++) {
      Path next =
          path.resolveSibling(
              String.format(
                  Locale.ROOT, "%s-%03d%s", name.substring(0, dot), number, name.substring(dot)));
      try {
        begin(next);
        return next;
      } catch (FileAlreadyExistsException e) {
        // try the next number
      }
    }
    throw new IOException("there are " + MOST_FILES + " log files already");
  }

  /** Appends a row with its estimates and alerts. */
  void write(Row row, Figures figures, List<LiveFeed.Alert> alerts, double local)
      throws IOException {
    if (!stamped) {
      text.append(LogStart.comment(Instant.now()));
      stamped = true;
    }
    text.append(String.format(Locale.ROOT, "%.6f", row.nanos() * 1e-9)).append(',');
    number(row.volts(), 3);
    number(row.amps(), 3);
    number(row.throttle(), 4);
    number(row.celsius(), 2);
    text.append(figures.state()).append(',');
    number(figures.availableWatts(), 2);
    number(figures.lowWatts(), 2);
    number(figures.ceiling(), 4);
    text.append(figures.levelWord()).append(',');
    String between = "";
    for (LiveFeed.Alert alert : alerts) {
      text.append(between).append(alert.level()).append(alert.raised() ? " RAISED" : " CLEARED");
      between = "; ";
    }
    text.append('\n');
    double seconds = row.nanos() * 1e-9;
    if (local - synced >= SYNC_SECONDS) {
      sync();
      synced = local;
      written = seconds;
    } else if (Math.abs(seconds - written) >= SYNC_SECONDS) {
      // buffered rows arrive faster than real time
      put(false);
      written = seconds;
    }
  }

  private void number(double value, int decimals) {
    if (Double.isFinite(value)) {
      Decimals.append(text, value, decimals);
    }
    text.append(',');
  }

  /** Writes the buffer and forces it to the disk; does nothing after a failure. */
  void sync() throws IOException {
    put(true);
  }

  /** Writes the buffer; does nothing after a failure. */
  private void put(boolean force) throws IOException {
    if (failed) {
      return;
    }
    ByteBuffer bytes = ByteBuffer.wrap(text.toString().getBytes(StandardCharsets.UTF_8));
    text.setLength(0);
    try {
      while (bytes.hasRemaining()) {
        file.write(bytes);
      }
      if (force) {
        file.force(false);
      }
    } catch (IOException e) {
      failed = true;
      throw new OutputFault(at, e, "the log ends here");
    }
  }

  @Override
  public void close() throws IOException {
    if (file.isOpen()) {
      sync();
      file.close();
    }
  }
}
