package org.solarmargin.cli.watch;

import java.util.function.Consumer;
import org.solarmargin.cli.live.LinkCounts;
import org.solarmargin.cli.live.Links;
import org.solarmargin.cli.live.QueuedSource;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.playback.UnitAdvice;

/** Opens the source named by {@code --from}. */
final class Sources {

  private static final String STANDARD_INPUT = "standard input";

  private Sources() {}

  /**
   * Opens a source.
   *
   * @param name {@code -}, or a name for {@link Links#open}
   * @param units judges the units of a log's columns
   * @param notes receives how the lines of a log were read
   * @throws IllegalArgumentException with the rule, if the name has another form
   */
  static RowSource open(
      String name, ColumnMap columns, Links links, UnitAdvice units, Consumer<String> notes) {
    return name.equals("-")
        ? new QueuedSource(
            new TextReader(STANDARD_INPUT, System.in, columns, units, notes),
            STANDARD_INPUT,
            true,
            new LinkCounts())
        : links.open(name);
  }
}
