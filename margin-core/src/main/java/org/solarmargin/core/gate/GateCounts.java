package org.solarmargin.core.gate;

/** What a gate has judged so far, to look at. */
public interface GateCounts {

  /**
   * Samples with a verdict so far.
   *
   * @param verdict which, not null
   * @return count
   */
  long count(Verdict verdict);

  /**
   * Samples judged so far.
   *
   * @return count
   */
  long samples();

  /**
   * Gaps: intervals above half a second and five times the usual one.
   *
   * @return count
   */
  long gaps();

  /**
   * Whether these samples cannot come from this array.
   *
   * @return true once voltages above any light's were more than a glitch, until readings are
   *     possible again
   */
  boolean wrongArray();

  /**
   * The limits in force.
   *
   * @return never null
   */
  GateLimits limits();
}
