package org.solarmargin.core.profile;

import java.util.List;

/** A properties file that breaks its rules; the message lists every fault, one line each. */
public final class PropertiesException extends IllegalArgumentException {

  private static final long serialVersionUID = 1L;

  private final transient List<String> faults;

  /**
   * All faults of one file.
   *
   * @param faults one line each: file, line, rule, value; not empty
   */
  public PropertiesException(List<String> faults) {
    super(String.join("\n", faults));
    this.faults = List.copyOf(faults);
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
