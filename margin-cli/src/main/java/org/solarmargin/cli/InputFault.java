package org.solarmargin.cli;

/** An input that cannot be used: one line saying file, line, rule, value and what to do. Exit 3. */
public final class InputFault extends RuntimeException {

  private static final long serialVersionUID = 1L;

  /**
   * A fault.
   *
   * @param line the whole message
   */
  public InputFault(String line) {
    super(line);
  }
}
