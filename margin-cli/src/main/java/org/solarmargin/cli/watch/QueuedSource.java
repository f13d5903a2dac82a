package org.solarmargin.cli.watch;

import java.io.IOException;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.Row;

/** Rows that a thread of its own reads, at most so many ahead: what is beyond is dropped. */
final class QueuedSource implements RowSource {

  /** Reads rows until it is closed. */
  interface Reader extends AutoCloseable {
    /** The next row; null at the end. Rows without anything in them are left out. */
    Row next() throws IOException;

    @Override
    void close() throws IOException;
  }

  private static final int AHEAD = 4096;

  private final Reader reader;
  private final String words;
  private final boolean patient;
  private final BlockingQueue<Row> rows = new ArrayBlockingQueue<>(AHEAD);
  private volatile InputFault fault;
  private volatile boolean done;

  /**
   * Starts reading.
   *
   * @param patient whether the reader waits where the queue is full, as for a file
   */
  QueuedSource(Reader reader, String words, boolean patient) {
    this.reader = reader;
    this.words = words;
    this.patient = patient;
    Thread thread = new Thread(this::read, "rows");
    thread.setDaemon(true);
    thread.start();
  }

  private void read() {
    try {
      for (Row row = reader.next(); row != null; row = reader.next()) {
        if (patient) {
          rows.put(row);
        } else if (!rows.offer(row)) {
          rows.poll();
          rows.offer(row);
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

  @Override
  public Row poll(long millis) throws InterruptedException {
    Row row = rows.poll(millis, TimeUnit.MILLISECONDS);
    if (row == null && done && fault != null) {
      throw fault;
    }
    return row;
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
  public void close() throws IOException {
    reader.close();
  }
}
