package org.solarmargin.sim.timing;

/** Shape of the low-pass filter of a reading; its only parameter is the filter time, in seconds. */
public enum FilterShape {
  /** One first-order low-pass filter; the filter time is its time constant. */
  FIRST_ORDER,
  /** Two equal first-order filters in series; the filter time is the time constant of each. */
  SECOND_ORDER,
  /** Mean of the last readings; the filter time is the length of the window. */
  AVERAGE
}
