package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.LIGHT;

import org.solarmargin.core.state.StateBytes;

/**
 * Instrumental variables (P. Young, Automatica 6, 1970): light and back-EMF at which the
 * measurement Jacobian is taken. They contain little of the noise of the newest innovation, so that
 * the product of Jacobian and innovation averages out and the slow states do not drift.
 */
final class Instruments {

  /**
   * Time constant of the instruments, s. Engineering judgement, not tuned. That of the light is
   * shorter at an edge, where its change is large compared with its noise.
   */
  static final double SECONDS = 1;

  private double light;
  private double emf;

  /** Sets the instruments to the state, at the start and after a step of the light. */
  void restart(double[] x) {
    light = x[LIGHT];
    emf = x[EMF];
  }

  /**
   * Relaxes both towards the state over a step; the back-EMF then also follows the rotors.
   *
   * @param edge process noise of the light over its calm value, 1 or more
   */
  void relax(double[] x, double seconds, double edge, double steadyEmf, double motorKeep) {
    double share = Math.min(seconds / SECONDS, 1);
    double calm = 1 / edge;
    light += Math.min(share / (calm * calm), 1) * (x[LIGHT] - light);
    emf += share * (x[EMF] - emf);
    emf = steadyEmf + (emf - steadyEmf) * motorKeep;
  }

  /** Logarithm of the ratio of the instrument's light to the state's. */
  double lightShift(double[] x) {
    return light - x[LIGHT];
  }

  /** Back-EMF of the instrument minus the state's, V. */
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
