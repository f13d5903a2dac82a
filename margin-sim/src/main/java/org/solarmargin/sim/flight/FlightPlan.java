package org.solarmargin.sim.flight;

import java.util.List;

/**
 * Heights over time: each leg goes to a height at the climb limit and stays till its end.
 *
 * @param legs at least one
 * @param ramp of the throttle with the craft held down, instead of any height
 */
public record FlightPlan(List<Leg> legs, ThrottleRamp ramp) {

  /** Copies the list. */
  public FlightPlan {
    legs = List.copyOf(legs);
  }

  /**
   * Heights alone.
   *
   * @param legs at least one
   */
  public FlightPlan(List<Leg> legs) {
    this(legs, ThrottleRamp.NONE);
  }

  /**
   * One leg.
   *
   * @param heightMetres where to be; 0 is on the ground with the rotors idle
   * @param seconds how long
   */
  public record Leg(double heightMetres, double seconds) {}

  /**
   * Length of the plan.
   *
   * @return s
   */
  public double seconds() {
    double sum = 0;
    for (Leg leg : legs) {
      sum += leg.seconds();
    }
    return sum;
  }

  /**
   * Height wanted at a time.
   *
   * @param time s
   * @return m
   */
  public double height(double time) {
    double end = 0;
    for (Leg leg : legs) {
      end += leg.seconds();
      if (time < end) {
        return leg.heightMetres();
      }
    }
    return legs.get(legs.size() - 1).heightMetres();
  }
}
