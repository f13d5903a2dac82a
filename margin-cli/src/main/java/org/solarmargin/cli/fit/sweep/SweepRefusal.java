package org.solarmargin.cli.fit.sweep;

import org.solarmargin.cli.file.InputFault;

/** A sweep that cannot be fitted, with its state. */
public final class SweepRefusal extends InputFault {

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

  public SweepState state() {
    return state;
  }
}
