package org.solarmargin.cli.format;

/**
 * Direct voltages between bare terminals that require a caution, by IEC 60364-4-41: above 60 V
 * ripple-free direct voltage is hazardous to touch even in dry conditions, and 120 V is the limit
 * of extra-low voltage. Quoted from memory.
 */
public final class TouchVoltage {

  /** Touching is dangerous from this voltage upwards, V. */
  public static final double SHOCK = 60;

  /** Work on live parts is for licensed electricians from this voltage upwards, V. */
  public static final double LICENSED = 120;

  private TouchVoltage() {}
}
