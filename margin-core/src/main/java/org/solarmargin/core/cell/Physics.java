package org.solarmargin.core.cell;

/** Constants of nature and of the standard test conditions. */
public final class Physics {

  /** Boltzmann constant over elementary charge, V/K (SI 2019, both exact). */
  public static final double BOLTZMANN_VOLTS_PER_KELVIN = 1.380649e-23 / 1.602176634e-19;

  /** 0 degrees Celsius in kelvin. */
  public static final double ZERO_CELSIUS_KELVIN = 273.15;

  /** Cell temperature of the standard test conditions, kelvin. */
  public static final double REFERENCE_KELVIN = 298.15;

  private Physics() {}
}
