package org.solarmargin.cli.flightevent;

import java.util.Locale;
import java.util.Set;

/**
 * Recognises marks by the pilot that denote a loss of lift: those whose first word is one of a
 * fixed list. Other marks are shown but do not count as losses.
 */
public final class LossMarks {

  /** The list, as shown in help texts and pages. */
  public static final String WORDS =
      "loss, lost, sink, sinks, sinking, sank, fall, falls, fell, drop, dropped, crash, crashed,"
          + " brownout, brown-out";

  private static final Set<String> FIRST = Set.of(WORDS.split(", "));

  private LossMarks() {}

  /**
   * Whether a mark denotes a loss.
   *
   * @param mark the pilot's text, in any case
   * @return true if its first word is one of {@link #WORDS}
   */
  public static boolean isLoss(String mark) {
    String first = mark.strip().split("[^\\p{L}-]", 2)[0];
    return FIRST.contains(first.toLowerCase(Locale.ROOT));
  }
}
