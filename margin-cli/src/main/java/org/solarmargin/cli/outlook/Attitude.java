package org.solarmargin.cli.outlook;

import java.util.Locale;

/**
 * Attitude of the array.
 *
 * @param tilt tilt from level, degrees
 * @param heading direction in which it faces, degrees clockwise from north; NaN if it follows the
 *     sun
 */
record Attitude(double tilt, double heading) {

  boolean followsSun() {
    return Double.isNaN(heading);
  }

  String words() {
    return tilt == 0
        ? "level"
        : String.format(
            Locale.ROOT,
            "tilted %.3g\u00b0 %s",
            tilt,
            followsSun()
                ? "towards the sun"
                : String.format(Locale.ROOT, "to %.0f\u00b0 from north", heading));
  }
}
