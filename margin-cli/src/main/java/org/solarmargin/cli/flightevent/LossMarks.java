package org.solarmargin.cli.flightevent;

import java.util.Locale;
import java.util.Set;

/**
 * Which marks of the flyer stand for a loss of lift: those whose first word is one of a few. Other
 * marks are shown, and judge nothing.
 */
public final class LossMarks {

  /** For help and pages. */
  public static final String WORDS =
      "loss, lost, sink, sinks, sinking, sank, fall, falls, fell, drop, dropped, crash, crashed,"
          + " brownout, brown-out";

  private static final Set<String> FIRST = Set.of(WORDS.split(", "));

  private LossMarks() {}

  /**
   * Whether a mark stands for a loss.
   *
   * @param mark the flyer's text, any case
   * @return true if its first word is one of {@link #WORDS}
   */
  public static boolean isLoss(String mark) {
    String first = mark.strip().split("[^\\p{L}-]", 2)[0];
    return FIRST.contains(first.toLowerCase(Locale.ROOT));
  }
}
