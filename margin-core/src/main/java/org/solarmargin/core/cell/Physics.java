package org.solarmargin.core.cell;

/** Physical constants, properties of silicon, and the standard test conditions. */
public final class Physics {

  /** Boltzmann constant over elementary charge, V/K (SI 2019, both exact). */
  public static final double BOLTZMANN_VOLTS_PER_KELVIN = 1.380649e-23 / 1.602176634e-19;

  /** 0 degrees Celsius in kelvin. */
  public static final double ZERO_CELSIUS_KELVIN = 273.15;

  /** Cell temperature of the standard test conditions, kelvin. */
  public static final double REFERENCE_KELVIN = 298.15;

  /** Band gap of silicon at 25 degrees Celsius, eV (De Soto 2006). */
  public static final double BAND_GAP_VOLTS = 1.121;

  /** Relative change of the band gap, 1/K (De Soto 2006). */
  public static final double BAND_GAP_TEMP_COEFF = -0.0002677;

  private Physics() {}
}
