package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.LIGHT;

import org.solarmargin.core.state.StateBytes;

/**
 * Instrumental variables (P. Young, Automatica 6, 1970): light and back-EMF at which the
 * measurement Jacobian is taken. They carry little of the noise of the newest innovation, so that
 * the product of Jacobian and innovation averages out and what is slow does not drift.
 */
final class Instruments {

  /** Lag of the instruments, s; shorter at an edge, where the light's noise is small beside it. */
  static final double SECONDS = 1;

  private double light;
  private double emf;

  /** After a step of the light, and at the start, there is nothing older to go by. */
  void restart(double[] x) {
    light = x[LIGHT];
    emf = x[EMF];
  }

  /**
   * Lets both relax towards the state over a step; the back-EMF then moves as the rotors do.
   *
   * @param edge light drift over its calm value, 1 or more
   */
  void relax(double[] x, double seconds, double edge, double steadyEmf, double motorKeep) {
    double pull = Math.min(seconds / SECONDS, 1);
    double calm = 1 / edge;
    light += Math.min(pull / (calm * calm), 1) * (x[LIGHT] - light);
    emf += pull * (x[EMF] - emf);
    emf = steadyEmf + (emf - steadyEmf) * motorKeep;
  }

  /** Logarithm of the instrument's light over the state's. */
  double lightShift(double[] x) {
    return light - x[LIGHT];
  }

  /** Back-EMF of the instrument over the state's, V. */
  double emfShift(double[] x) {
    return emf - x[EMF];
  }

  void write(StateBytes out) {
    out.put(light);
    out.put(emf);
  }

  void read(StateBytes in) {
    light = in.get();
    emf = in.get();
  }
}
