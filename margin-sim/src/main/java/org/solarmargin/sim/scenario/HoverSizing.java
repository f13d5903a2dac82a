package org.solarmargin.sim.scenario;

import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.craft.Rotor;
import org.solarmargin.sim.scenario.Scenario.MotorSpec;

/**
 * Mass and rotors with which a craft hovers as stated in its profile: at the stated throttle, power
 * and bus voltage, in still air of the ISA at sea level. If the profile leaves one of mass,
 * diameter and figure of merit open, it follows from the other two by momentum theory, see {@link
 * Rotor}.
 *
 * @param kilograms take-off mass, kg
 * @param diameterMetres diameter of each rotor, m
 * @param figureOfMerit figure of merit of each rotor
 */
record HoverSizing(double kilograms, double diameterMetres, double figureOfMerit) {

  private static final double DENSITY = 1.225;

  /** Open propellers of multirotors have 0.5 to 0.7: common practice, no source. */
  static final double USUAL_FIGURE_OF_MERIT = 0.62;

  /** Diameter if the profile gives neither mass nor diameter, m: 22 inches. */
  private static final double USUAL_DIAMETER = 0.5588;

  /** The sizing of a profile's craft for motors with these losses. */
  static HoverSizing of(CraftProfile profile, MotorSpec motor) {
    EstimatorSettings.Rotor hover = profile.settings().rotor();
    double motorWatts = hover.hoverWatts() - hover.housekeepingWatts();
    double losses = motor.driveEfficiency() * (1 - motor.copperShare()) * (1 - motor.noLoadShare());
    double shaft = motorWatts * losses / profile.rotors();
    double mass = profile.massKilograms();
    double diameter = profile.rotorDiameterMetres();
    if (Double.isNaN(mass)) {
      double usual = Double.isNaN(diameter) ? USUAL_DIAMETER : diameter;
      double newtons =
          StrictMath.cbrt(2 * DENSITY * disc(usual) * square(USUAL_FIGURE_OF_MERIT * shaft));
      double kilograms = profile.rotors() * newtons / Airframe.GRAVITY;
      return new HoverSizing(kilograms, usual, USUAL_FIGURE_OF_MERIT);
    }
    double newtons = mass * Airframe.GRAVITY / profile.rotors();
    if (Double.isNaN(diameter)) {
      double cube = newtons * newtons * newtons;
      double area = cube / (2 * DENSITY * square(USUAL_FIGURE_OF_MERIT * shaft));
      return new HoverSizing(mass, Math.sqrt(4 * area / Math.PI), USUAL_FIGURE_OF_MERIT);
    }
    // a guessed hover power carries no information on the propellers
    double merit =
        hover.known()
            ? Rotor.idealWatts(newtons, disc(diameter), DENSITY) / shaft
            : USUAL_FIGURE_OF_MERIT;
    return new HoverSizing(mass, diameter, merit);
  }

  private static double disc(double diameter) {
    return Math.PI * diameter * diameter / 4;
  }

  private static double square(double v) {
    return v * v;
  }
}
