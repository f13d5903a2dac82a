package org.solarmargin.cli.fit;

/** What came of a sweep. */
enum SweepState {
  /** A curve of one uniform array, fitted. */
  FITTED,
  /** The current falls in steps: shaded, cracked or dirty cells, or bypass diodes. */
  STEPPED,
  /** No curve that can be fitted, for the reason given. */
  REFUSED
}
