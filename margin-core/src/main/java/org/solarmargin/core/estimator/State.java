package org.solarmargin.core.estimator;

/** Indices of the hidden quantities in the state vector. */
final class State {

  /** Natural logarithm of the light in suns. */
  static final int LIGHT = 0;

  /** Cell temperature, degrees Celsius. */
  static final int CELL = 1;

  /** Back-EMF of the motors (rotor speed in volts), V. */
  static final int EMF = 2;

  /** Logarithm of the factor of gusts and climb on the propulsion constant; fast, with mean 0. */
  static final int GUST = 3;

  /** Logarithm of the propulsion constant in still hover, A/V2. */
  static final int PROPULSION = 4;

  /** Logarithm of the winding resistance, ohm. */
  static final int WINDING = 5;

  /** Effective air temperature minus the profile's, K. */
  static final int AIR = 6;

  /** Relative error of the voltage reading. */
  static final int VOLTAGE_GAIN = 7;

  /** Relative error of the current reading. */
  static final int CURRENT_GAIN = 8;

  /** Offset of the current reading, A. */
  static final int CURRENT_OFFSET = 9;

  /** Logarithm of the ratio of the series resistance to the profile's. */
  static final int SERIES = 10;

  /** Logarithm of the ratio of the ideality to the profile's. */
  static final int IDEALITY = 11;

  /** Relative temperature coefficient of the open-circuit voltage minus the profile's, 1/K. */
  static final int VOC_COEFF = 12;

  /** Error of a thermometer on the cells, K. */
  static final int THERMOMETER_OFFSET = 13;

  /** Output of the voltage's filter at the last reading, V; not used without a filter. */
  static final int FILTERED_VOLTS = 14;

  /** Output of the current's filter at the last reading, A; not used without a filter. */
  static final int FILTERED_AMPS = 15;

  /**
   * States below this index are estimated with the full gain; those from here to {@link
   * #FILTERED_VOLTS} are constants of cells and sensors, which contribute to the interval and are
   * updated with a fraction of the gain.
   */
  static final int ESTIMATED = 7;

  /** Number of states of craft and sensors; the states of the sensors' filters follow. */
  static final int UNFILTERED = 14;

  /** Length of the state vector. */
  static final int SIZE = 16;

  private State() {}
}
