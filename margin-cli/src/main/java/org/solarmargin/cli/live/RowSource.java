package org.solarmargin.cli.live;

import java.io.Closeable;
import java.io.IOException;
import org.solarmargin.cli.mavlink.Row;

/** Where rows come from, as they come. */
public interface RowSource extends Closeable {

  /**
   * A row and when it came.
   *
   * @param row never null
   * @param local when it came, s of {@link System#nanoTime}
   */
  record Arrived(Row row, double local) {}

  /**
   * The next row.
   *
   * @param millis how long to wait for it
   * @return null if none came meanwhile
   * @throws InterruptedException if the thread is interrupted
   */
  Arrived poll(long millis) throws InterruptedException;

  /**
   * Whether no more will come.
   *
   * @return true at the end of a stream
   */
  boolean ended();

  /**
   * What it listens to, for people.
   *
   * @return never empty
   */
  String words();

  /**
   * What is wrong with the source itself, for people.
   *
   * @return empty if nothing is
   */
  String trouble();

  /**
   * What has come so far.
   *
   * @return the same object each time
   */
  LinkCounts counts();

  @Override
  void close() throws IOException;
}
