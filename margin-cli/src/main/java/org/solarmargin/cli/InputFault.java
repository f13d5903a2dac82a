package org.solarmargin.cli;

/** An input that cannot be used: one line saying file, line, rule, value and what to do. Exit 3. */
public class InputFault extends RuntimeException {

  private static final long serialVersionUID = 1L;

  /**
   * A fault.
   *
   * @param line the whole message
   */
  public InputFault(String line) {
    super(line);
  }

  /**
   * A fault of one line of a table.
   *
   * @param name of the file
   * @param line in the file, 1 is the first
   * @param rule that it breaks
   * @param value that breaks it
   * @return the fault, saying what to do
   */
  public static InputFault ofLine(String name, long line, String rule, String value) {
    return new InputFault(
        name + " line " + line + ": " + rule + ": " + value + ": mend or remove the line");
  }
}
