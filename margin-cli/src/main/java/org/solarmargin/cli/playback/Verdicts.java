package org.solarmargin.cli.playback;

import java.util.EnumSet;
import java.util.Set;
import org.solarmargin.core.gate.GateCounts;
import org.solarmargin.core.gate.Verdict;

/** The one place that says which verdicts leave a reading to use, and which refuse the sample. */
public final class Verdicts {

  private static final Set<Verdict> TAKEN = EnumSet.of(Verdict.ACCEPTED, Verdict.NO_NEW_READING);

  private Verdicts() {}

  /**
   * Whether the monitor's reading belongs to the sample.
   *
   * @param verdict of the sample
   * @return false if the sample was refused
   */
  public static boolean taken(Verdict verdict) {
    return TAKEN.contains(verdict);
  }

  /**
   * Refused samples.
   *
   * @param gate the gate that judged them
   * @return count
   */
  public static long refused(GateCounts gate) {
    return gate.samples() - TAKEN.stream().mapToLong(gate::count).sum();
  }

  /**
   * Counts of refused samples by reason; where no sample brought a reading, that is a reason too.
   *
   * @param gate the gate that refused them
   * @return words for one line; empty if none was refused
   */
  public static String refusals(GateCounts gate) {
    StringBuilder text = new StringBuilder();
    for (Verdict verdict : Verdict.values()) {
      boolean nothing = verdict == Verdict.NO_NEW_READING && gate.count(Verdict.ACCEPTED) == 0;
      if ((!taken(verdict) || nothing) && gate.count(verdict) > 0) {
        text.append(text.isEmpty() ? "" : ", ");
        text.append(gate.count(verdict)).append(' ').append(verdict.words());
      }
    }
    return text.toString();
  }
}
