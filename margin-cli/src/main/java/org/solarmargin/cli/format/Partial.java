package org.solarmargin.cli.format;

import java.io.PrintWriter;

/**
 * Whether work was stopped before its end, said wherever its results are read.
 *
 * @param words such as "stopped after 3 of 500 flights"; empty if all was done
 */
public record Partial(String words) {

  /** All was done. */
  public static final Partial WHOLE = new Partial("");

  /**
   * Work that may have been stopped.
   *
   * @param stopped whether it was asked to
   * @param done how much was done
   * @param asked how much there was to do
   * @param what of, plural
   * @return {@link #WHOLE} if all was done
   */
  public static Partial of(boolean stopped, int done, int asked, String what) {
    return stopped || done < asked
        ? new Partial("stopped after " + done + " of " + asked + " " + what)
        : WHOLE;
  }

  /**
   * Whether less was done than asked.
   *
   * @return true if so
   */
  public boolean stopped() {
    return !words.isEmpty();
  }

  /**
   * The line that goes before the results; none if all was done.
   *
   * @return with its mark
   */
  public String line() {
    return stopped() ? "PARTIAL: " + words : "";
  }

  /**
   * Prints the line.
   *
   * @param out standard output
   */
  public void print(PrintWriter out) {
    if (stopped()) {
      out.println(line());
    }
  }
}
