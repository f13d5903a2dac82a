package org.solarmargin.core.profile;

import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** Thrown for a faulty properties file; the message lists the faults, one per line. */
public final class PropertiesException extends IllegalArgumentException {

  private static final long serialVersionUID = 1L;

  private static final int LONGEST = 1000;

  /** Control characters, line separators, and marks that change the direction of text. */
  static final Pattern UNPRINTABLE =
      Pattern.compile("[\\p{Cc}\\u2028\\u2029\\u202a-\\u202e\\u2066-\\u2069\\u200e\\u200f\\u061c]");

  private final transient List<String> faults;

  /**
   * Creates an exception for the faults of one file.
   *
   * @param faults one line each: file, line, rule, value; not empty; control characters in them are
   *     replaced, and very long ones are truncated
   */
  public PropertiesException(List<String> faults) {
    super(faults.stream().map(PropertiesException::printable).collect(Collectors.joining("\n")));
    this.faults = faults.stream().map(PropertiesException::printable).toList();
  }

  private static String printable(String fault) {
    String whole = fault.length() <= LONGEST ? fault : fault.substring(0, LONGEST) + "...";
    return UNPRINTABLE.matcher(whole).replaceAll("?");
  }

  /**
   * The faults.
   *
   * @return one line each, in the order of the file
   */
  public List<String> faults() {
    return faults == null ? List.of(getMessage()) : faults;
  }
}
