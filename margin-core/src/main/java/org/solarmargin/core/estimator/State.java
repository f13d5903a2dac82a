package org.solarmargin.core.estimator;

/** Places of the hidden quantities in the state vector. */
final class State {

  /** Natural logarithm of the light in suns. */
  static final int LIGHT = 0;

  /** Cell temperature, degrees Celsius. */
  static final int CELL = 1;

  /** Back-EMF of the motors (rotor speed in volts), V. */
  static final int EMF = 2;

  /** Logarithm of what gusts and climb do to the propulsion constant, fast and about 0. */
  static final int GUST = 3;

  /** Logarithm of the propulsion constant in still hover, A/V2. */
  static final int PROPULSION = 4;

  /** Logarithm of the winding resistance, ohm. */
  static final int WINDING = 5;

  /** Air temperature over the profile's, K. */
  static final int AIR = 6;

  /** Relative error of the voltage reading. */
  static final int VOLTAGE_GAIN = 7;

  /** Relative error of the current reading. */
  static final int CURRENT_GAIN = 8;

  /** Offset of the current reading, A. */
  static final int CURRENT_OFFSET = 9;

  /** Logarithm of the series resistance over the profile's. */
  static final int SERIES = 10;

  /** Logarithm of the ideality over the profile's. */
  static final int IDEALITY = 11;

  /** Temperature coefficient of the open-circuit voltage over the profile's, relative, 1/K. */
  static final int VOC_COEFF = 12;

  /** Error of a thermometer on the cells, K. */
  static final int THERMOMETER_OFFSET = 13;

  /** What the voltage's filter held at the last reading, V; not used where there is no filter. */
  static final int FILTERED_VOLTS = 14;

  /** What the current's filter held at the last reading, A; not used where there is no filter. */
  static final int FILTERED_AMPS = 15;

  /**
   * States below this place are estimated in full; those from here to {@link #FILTERED_VOLTS} are
   * constants of cells and sensors, carried in the interval and learned in part.
   */
  static final int ESTIMATED = 7;

  /** States of craft and sensors; the filters' states follow. */
  static final int UNFILTERED = 14;

  /** Length of the state vector. */
  static final int SIZE = 16;

  private State() {}
}
