package org.solarmargin.cli.fit;

import org.solarmargin.cli.InputFault;

/** A sweep that cannot be fitted, and in which way. */
final class SweepRefusal extends InputFault {

  private static final long serialVersionUID = 1L;

  private final SweepState state;

  /**
   * A refusal.
   *
   * @param state STEPPED or REFUSED
   * @param line file, rule, value and what to do
   */
  SweepRefusal(SweepState state, String line) {
    super(line);
    this.state = state;
  }

  SweepState state() {
    return state;
  }
}
