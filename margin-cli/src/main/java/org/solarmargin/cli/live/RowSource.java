package org.solarmargin.cli.live;

import java.io.Closeable;
import java.io.IOException;
import org.solarmargin.cli.mavlink.Row;

/** A source of rows as they arrive. */
public interface RowSource extends Closeable {

  /**
   * A row with its time of arrival.
   *
   * @param row never null
   * @param local time of arrival, s of {@link System#nanoTime}
   */
  record Arrived(Row row, double local) {}

  /**
   * The next row.
   *
   * @param millis how long to wait for it
   * @return null if none arrived within that time
   * @throws InterruptedException if the thread is interrupted
   */
  Arrived poll(long millis) throws InterruptedException;

  /**
   * Whether no more rows will arrive.
   *
   * @return true at the end of a stream
   */
  boolean ended();

  /**
   * Human-readable description of the source.
   *
   * @return never empty
   */
  String description();

  /**
   * Human-readable description of a problem with the source itself.
   *
   * @return empty if there is none
   */
  String problem();

  /**
   * Counts of what was received so far.
   *
   * @return the same object each time
   */
  LinkCounts counts();

  @Override
  void close() throws IOException;
}
