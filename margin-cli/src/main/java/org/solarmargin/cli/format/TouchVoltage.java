package org.solarmargin.cli.format;

/**
 * Direct voltages between bare ends from which on a caution is due, by IEC 60364-4-41: ripple-free
 * direct current over 60 V is no longer harmless to touch even on dry skin, and 120 V is the limit
 * of extra-low voltage. From memory.
 */
public final class TouchVoltage {

  /** From here on touching is dangerous, V. */
  public static final double SHOCK = 60;

  /** From here on work on live parts is for licensed electricians, V. */
  public static final double LICENSED = 120;

  private TouchVoltage() {}
}
