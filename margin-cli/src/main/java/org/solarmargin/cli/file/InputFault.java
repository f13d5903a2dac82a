package org.solarmargin.cli.file;

import org.solarmargin.cli.format.Printable;

/** An input that cannot be used: one line saying file, line, rule, value and what to do. Exit 3. */
public class InputFault extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private static final int LONGEST_VALUE = 80;

  /**
   * A fault.
   *
   * @param line the whole message; control characters in it are replaced
   */
  public InputFault(String line) {
    super(Printable.of(line));
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
        name
            + " line "
            + line
            + ": "
            + rule
            + ": "
            + Printable.brief(value, LONGEST_VALUE)
            + ": correct or remove the line");
  }
}
