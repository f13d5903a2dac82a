package org.solarmargin.cli.fit.sweep;

/** The result of a sweep. */
public enum SweepState {
  /** A curve of one uniform array, fitted. */
  FITTED,
  /** The current falls in steps: shaded, cracked or dirty cells, or bypass diodes. */
  STEPPED,
  /** No curve that can be fitted, for the reason given. */
  REFUSED
}
