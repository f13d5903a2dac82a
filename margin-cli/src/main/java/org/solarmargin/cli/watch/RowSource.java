package org.solarmargin.cli.watch;

import java.io.IOException;
import org.solarmargin.cli.mavlink.Row;

/** Where rows come from, as they come. */
interface RowSource extends AutoCloseable {

  /**
   * The next row.
   *
   * @param millis how long to wait for it
   * @return null if none came meanwhile
   */
  Row poll(long millis) throws InterruptedException, IOException;

  /** Whether no more will come. */
  boolean ended();

  /** What it listens to, for people. */
  String words();

  @Override
  void close() throws IOException;
}
