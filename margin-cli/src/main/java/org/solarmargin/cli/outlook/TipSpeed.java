package org.solarmargin.cli.outlook;

import java.util.Locale;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Approximate tip speed and Reynolds number in hover: thrust {@code T = CT rho n^2 D^4} with the
 * middle CT of UIUC's static tables of an 11 in propeller (Brandt and Selig, AIAA 2011-1255: 0.099
 * to 0.126), and a chord of 8 % of the diameter at three quarters of the radius (common practice,
 * no source). Above Mach 0.5 compressibility increases the power; below a Reynolds number of about
 * 100 000 the figure of merit falls (the same tables, with that chord: 0.63 at 28 000, 0.72 at 100
 * 000).
 *
 * @param metresPerSecond speed of the tips
 * @param reynolds Reynolds number at three quarters of the radius
 */
record TipSpeed(double metresPerSecond, double reynolds) {

  /** Tip speed above which power increases, m/s. */
  static final double MOST = 170;

  /** Reynolds number below which the figure of merit falls. */
  static final double LEAST_REYNOLDS = 100_000;

  private static final double THRUST_COEFFICIENT = 0.11;
  private static final double CHORD_SHARE = 0.08;
  private static final double RADIUS_SHARE = 0.75;
  private static final double VISCOSITY = 1.8e-5;
  private static final double GRAVITY = 9.80665;

  /** Values for a craft whose mass and propellers are known, with propellers scaled by a factor. */
  static TipSpeed of(CraftProfile profile, double larger, double density) {
    double diameter = larger * profile.rotorDiameterMetres();
    double thrust = profile.massKilograms() * GRAVITY / profile.rotors();
    double turns = Math.sqrt(thrust / (THRUST_COEFFICIENT * density * Math.pow(diameter, 4)));
    double tips = Math.PI * turns * diameter;
    return new TipSpeed(tips, density * RADIUS_SHARE * tips * CHORD_SHARE * diameter / VISCOSITY);
  }

  /** Speed and Reynolds number, with the limit that is exceeded, if any. */
  String words() {
    String limit =
        metresPerSecond > MOST
            ? ": above 170 m/s, where power increases"
            : reynolds < LEAST_REYNOLDS
                ? ": below 100 000, where the figure of merit falls"
                : ": within 170 m/s and 100 000";
    return String.format(
        Locale.ROOT,
        "about %.0f m/s, Reynolds number %.0f%s",
        metresPerSecond,
        1000 * Math.rint(reynolds / 1000),
        limit);
  }
}
