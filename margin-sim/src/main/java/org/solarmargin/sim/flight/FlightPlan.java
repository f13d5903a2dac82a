package org.solarmargin.sim.flight;

import java.util.List;

/**
 * Heights over time: each leg climbs or descends to a height at the climb limit and holds it until
 * its end.
 *
 * @param legs legs, at least one
 * @param ramp throttle ramp with the craft held down, in place of the heights
 */
public record FlightPlan(List<Leg> legs, ThrottleRamp ramp) {

  /** Copies the list. */
  public FlightPlan {
    legs = List.copyOf(legs);
  }

  /**
   * Creates a plan of heights without a throttle ramp.
   *
   * @param legs legs, at least one
   */
  public FlightPlan(List<Leg> legs) {
    this(legs, ThrottleRamp.NONE);
  }

  /**
   * One leg.
   *
   * @param heightMetres height, m; 0 is on the ground with the rotors idle
   * @param seconds duration, s
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
   * Commanded height at a time.
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
