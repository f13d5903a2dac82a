package org.solarmargin.cli.logcheck;

import java.util.Optional;

/** A check for one kind of fault over the blocks of a flight. */
interface LogCheck {

  /** Fewest seconds of flight for a finding: engineering judgement. */
  int LEAST_BLOCKS = 10;

  /**
   * Adds a block.
   *
   * @param block the readings of one second
   * @param before the block of the second before; null if there is none
   */
  void take(FlightBlock block, FlightBlock before);

  /** The finding from the blocks so far; empty if there is none. */
  Optional<Finding> finding();
}
