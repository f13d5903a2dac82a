package org.solarmargin.core.verdict;

/** Read-only view of the counts of a gate. */
public interface GateCounts {

  /**
   * Number of samples with a given verdict so far.
   *
   * @param verdict the verdict, not null
   * @return count
   */
  long count(Verdict verdict);

  /**
   * Number of samples judged so far.
   *
   * @return count
   */
  long samples();

  /**
   * Number of gaps: intervals longer than half a second and than five usual intervals.
   *
   * @return count
   */
  long gaps();

  /**
   * Whether the samples cannot come from this array.
   *
   * @return true once impossibly high voltages were too many for a glitch, until readings are
   *     plausible again
   */
  boolean wrongArray();

  /**
   * The limits in force.
   *
   * @return never null
   */
  GateLimits limits();
}
