package org.solarmargin.sim.flight;

/** Sees every sample of a simulated flight, and may hold the throttle. */
@FunctionalInterface
public interface FlightWatcher {

  /**
   * One sample.
   *
   * @param sample live buffer: read it before returning
   * @return the highest throttle that may be given until the next sample; 1 for no limit
   */
  double onSample(FlightSample sample);
}
