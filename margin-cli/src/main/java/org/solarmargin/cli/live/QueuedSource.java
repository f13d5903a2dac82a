package org.solarmargin.cli.live;

import java.io.Closeable;
import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.Row;

/**
 * A source whose rows are read ahead by its own thread, at most {@value #AHEAD} rows. When the
 * queue is full, reading of a file pauses; for a live link the oldest row is dropped and counted.
 */
public final class QueuedSource implements RowSource {

  /** Reads rows until it is closed. */
  public interface Reader extends Closeable {
    /**
     * The next row.
     *
     * @return null at the end
     * @throws IOException if it cannot be read
     */
    Row next() throws IOException;

    /**
     * Human-readable description of a problem.
     *
     * @return empty if there is none
     */
    default String problem() {
      return "";
    }
  }

  static final int AHEAD = 4096;

  private final Reader reader;
  private final String description;
  private final boolean waits;
  private final LinkCounts counts;
  private final BlockingQueue<Arrived> rows = new ArrayBlockingQueue<>(AHEAD);
  private volatile InputFault fault;
  private volatile boolean done;

  /**
   * Starts reading.
   *
   * @param reader reader of the rows; closed with this
   * @param description human-readable description of the source
   * @param waits whether the reader waits where the queue is full, as for a file
   * @param counts counts to update
   */
  public QueuedSource(Reader reader, String description, boolean waits, LinkCounts counts) {
    this.reader = reader;
    this.description = description;
    this.waits = waits;
    this.counts = counts;
    Thread thread = new Thread(this::read, "rows");
    thread.setDaemon(true);
    thread.start();
  }

  private void read() {
    try {
      for (Row row = reader.next(); row != null; row = reader.next()) {
        count(row);
        Arrived arrived = new Arrived(row, LiveFeed.now());
        if (waits) {
          rows.put(arrived);
        } else {
          while (!rows.offer(arrived)) {
            counts.add(LinkCounts.Kind.DROPPED, rows.poll() == null ? 0 : 1);
          }
        }
      }
    } catch (InputFault e) {
      fault = e;
    } catch (IOException e) {
      fault = new InputFault(description + ": cannot be read: " + e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } catch (RuntimeException e) {
      fault = new InputFault(description + ": cannot be read: " + e);
    } finally {
      done = true;
    }
  }

  private void count(Row row) {
    if (row.hasReading()) {
      counts.add(LinkCounts.Kind.READINGS, 1);
    }
    if (!Double.isNaN(row.throttle())) {
      counts.add(LinkCounts.Kind.COMMANDS, 1);
    }
  }

  @Override
  public Arrived poll(long millis) throws InterruptedException {
    Arrived row = rows.poll(millis, TimeUnit.MILLISECONDS);
    if (row == null && done && fault != null) {
      throw fault;
    }
    // rows of a file do not age while they wait in the queue
    return row == null || !waits ? row : new Arrived(row.row(), LiveFeed.now());
  }

  @Override
  public boolean ended() {
    return done && rows.isEmpty();
  }

  @Override
  public String description() {
    return description;
  }

  @Override
  public String problem() {
    return reader.problem();
  }

  @Override
  public LinkCounts counts() {
    return counts;
  }

  @Override
  public void close() throws IOException {
    reader.close();
  }
}
