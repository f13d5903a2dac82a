package org.solarmargin.cli.format;

import java.io.PrintWriter;

/**
 * Whether work was stopped early; this is stated wherever its results are shown.
 *
 * @param words such as "stopped after 3 of 500 flights"; empty if the work was completed
 */
public record Partial(String words) {

  /** The work was completed. */
  public static final Partial WHOLE = new Partial("");

  /**
   * Describes work that may have been stopped.
   *
   * @param stopped whether a stop was requested
   * @param done how much was done
   * @param asked how much there was to do
   * @param what the items counted, plural
   * @return {@link #WHOLE} if all items were done
   */
  public static Partial of(boolean stopped, int done, int asked, String what) {
    return stopped || done < asked
        ? new Partial("stopped after " + done + " of " + asked + " " + what)
        : WHOLE;
  }

  /**
   * Whether the work is incomplete.
   *
   * @return true if so
   */
  public boolean stopped() {
    return !words.isEmpty();
  }

  /**
   * The line to print before the results.
   *
   * @return the line with its marker; empty if the work was completed
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
