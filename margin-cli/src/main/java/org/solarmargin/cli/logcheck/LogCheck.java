package org.solarmargin.cli.logcheck;

import java.util.Optional;

/** One fault, looked for in the blocks of a flight. */
interface LogCheck {

  /** Fewest seconds of flight from which anything is concluded. */
  int LEAST_BLOCKS = 10;

  /**
   * Takes a block.
   *
   * @param block the readings of one second
   * @param before the block of the second before; null if there is none
   */
  void take(FlightBlock block, FlightBlock before);

  /** What the blocks so far show; empty if nothing. */
  Optional<Finding> finding();
}
