package org.solarmargin.cli.outlook;

import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * Hover power of a craft in air other than that of the profile's hover point (still air, ISA at sea
 * level): induced power is inversely proportional to the square root of the density, and a wind
 * along the rotor discs reduces it by Glauert's momentum theory (1926), {@code v = vh^2 / sqrt(Vx^2
 * + v^2)}.
 */
final class HoverDemand {

  private static final double SEA_LEVEL = 1.225;
  private static final double GRAVITY = 9.80665;
  private static final double COPPER_SHARE = 0.06;
  private static final int ITERATIONS = 60;

  private final EstimatorSettings.Rotor rotor;
  private final double discLoading;

  HoverDemand(CraftProfile profile) {
    rotor = profile.settings().rotor();
    double diameter = profile.rotorDiameterMetres();
    double discs = profile.rotors() * Math.PI * diameter * diameter / 4;
    discLoading = profile.massKilograms() * GRAVITY / discs;
  }

  /** Whether mass and propellers are known; without them the effect of wind is ignored. */
  boolean discLoadingKnown() {
    return !Double.isNaN(discLoading);
  }

  /** Bus power of a steady hover, W. */
  double watts(double density, double wind) {
    double motors = rotor.hoverWatts() - rotor.housekeepingWatts();
    return rotor.housekeepingWatts()
        + motors * Math.sqrt(SEA_LEVEL / density) * windFactor(density, wind);
  }

  /** Induced power in wind relative to that in still air. */
  double windFactor(double density, double wind) {
    if (!discLoadingKnown() || wind <= 0) {
      return 1;
    }
    double still = Math.sqrt(discLoading / (2 * density));
    double induced = still;
    for (int i = 0; i < ITERATIONS; i++) {
      induced = 0.5 * (induced + still * still / Math.hypot(wind, induced));
    }
    return induced / still;
  }

  /** Throttle that draws a bus power at a bus voltage, 0 to 1. */
  double throttle(double watts, double volts, double density) {
    double motors = rotor.hoverWatts() - rotor.housekeepingWatts();
    double winding = rotor.hoverThrottle() * rotor.hoverBusVolts();
    double ohms = RotorLoad.ohmsFrom(motors, winding, COPPER_SHARE);
    double propulsion =
        RotorLoad.propulsionFrom(motors, winding, COPPER_SHARE) * density / SEA_LEVEL;
    double emf = RotorLoad.backEmfFor(watts - rotor.housekeepingWatts(), ohms, propulsion, winding);
    return Math.min(RotorLoad.windingVolts(emf, ohms, propulsion) / volts, 1);
  }
}
