package org.solarmargin.cli.file;

import org.solarmargin.cli.format.Printable;

/**
 * An input that cannot be used: one line with file, line, rule, value and what to do. Exit status
 * 3.
 */
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
   * @param name name of the file
   * @param line number of the line, from 1
   * @param rule the rule that it breaks
   * @param value the value that breaks it
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
