package org.solarmargin.cli.outlook;

import java.util.Locale;

/**
 * How the array lies.
 *
 * @param tilt from level, degrees
 * @param heading the way it tilts to, degrees from north, eastward; NaN for the sun's own
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
                ? "to the sun"
                : String.format(Locale.ROOT, "to %.0f\u00b0 from north", heading));
  }
}
