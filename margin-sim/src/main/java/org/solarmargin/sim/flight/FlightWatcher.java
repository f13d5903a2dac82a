package org.solarmargin.sim.flight;

/** Receives every sample of a simulated flight and may limit the throttle. */
@FunctionalInterface
public interface FlightWatcher {

  /**
   * Receives one sample.
   *
   * @param sample buffer that is refilled: read it before returning
   * @return the highest throttle allowed until the next sample; 1 for no limit
   */
  double onSample(FlightSample sample);
}
