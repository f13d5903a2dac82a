package org.solarmargin.cli.live;

import java.io.Closeable;
import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.Row;

/**
 * Rows that a thread of its own reads, at most {@value #AHEAD} ahead. Beyond that a file waits; of
 * a live link the oldest row is dropped, and counted.
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
     * What is wrong, for people.
     *
     * @return empty if nothing is
     */
    default String trouble() {
      return "";
    }
  }

  static final int AHEAD = 4096;

  private final Reader reader;
  private final String words;
  private final boolean patient;
  private final LinkCounts counts;
  private final BlockingQueue<Arrived> rows = new ArrayBlockingQueue<>(AHEAD);
  private volatile InputFault fault;
  private volatile boolean done;

  /**
   * Starts reading.
   *
   * @param reader of the rows; closed with this
   * @param words what it listens to, for people
   * @param patient whether the reader waits where the queue is full, as for a file
   * @param counts where rows are counted
   */
  public QueuedSource(Reader reader, String words, boolean patient, LinkCounts counts) {
    this.reader = reader;
    this.words = words;
    this.patient = patient;
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
        if (patient) {
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
      fault = new InputFault(words + ": cannot be read: " + e.getMessage());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    done = true;
  }

  private void count(Row row) {
    if (row.reads()) {
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
    // what waits to be read of a file does not grow old by it
    return row == null || !patient ? row : new Arrived(row.row(), LiveFeed.now());
  }

  @Override
  public boolean ended() {
    return done && rows.isEmpty();
  }

  @Override
  public String words() {
    return words;
  }

  @Override
  public String trouble() {
    return reader.trouble();
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
