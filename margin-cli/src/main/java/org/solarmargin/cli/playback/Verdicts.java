package org.solarmargin.cli.playback;

import java.util.EnumSet;
import java.util.Set;
import org.solarmargin.core.verdict.GateCounts;
import org.solarmargin.core.verdict.Verdict;

/** Which verdicts leave a usable reading, and which refuse the sample. */
public final class Verdicts {

  private static final Set<Verdict> USABLE = EnumSet.of(Verdict.ACCEPTED, Verdict.NO_NEW_READING);

  private static final Set<Verdict> OF_RANGE =
      EnumSet.of(
          Verdict.CURRENT_NEGATIVE,
          Verdict.CURRENT_IMPOSSIBLE,
          Verdict.VOLTAGE_NEGATIVE,
          Verdict.VOLTAGE_IMPOSSIBLE);

  private Verdicts() {}

  /**
   * Whether the monitor's reading applies to the sample.
   *
   * @param verdict verdict on the sample
   * @return false if the sample was refused
   */
  public static boolean usable(Verdict verdict) {
    return USABLE.contains(verdict);
  }

  /**
   * Whether the sample was refused because the array cannot give its voltage or current.
   *
   * @param verdict verdict on the sample
   * @return true if a reading is out of range
   */
  static boolean ofRange(Verdict verdict) {
    return OF_RANGE.contains(verdict);
  }

  /**
   * Number of refused samples.
   *
   * @param gate the gate that judged them
   * @return count
   */
  public static long refused(GateCounts gate) {
    return gate.samples() - USABLE.stream().mapToLong(gate::count).sum();
  }

  /**
   * Counts of refused samples by reason; if no sample had a reading, that is listed as a reason
   * too.
   *
   * @param gate the gate that refused them
   * @return text for one line; empty if none was refused
   */
  public static String refusals(GateCounts gate) {
    StringBuilder text = new StringBuilder();
    for (Verdict verdict : Verdict.values()) {
      boolean nothing = verdict == Verdict.NO_NEW_READING && gate.count(Verdict.ACCEPTED) == 0;
      if ((!usable(verdict) || nothing) && gate.count(verdict) > 0) {
        text.append(text.isEmpty() ? "" : ", ");
        text.append(gate.count(verdict)).append(' ').append(verdict.words());
      }
    }
    return text.toString();
  }
}
