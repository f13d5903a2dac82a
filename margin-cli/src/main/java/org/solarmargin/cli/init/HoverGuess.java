package org.solarmargin.cli.init;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * An assumed hover point before anything is measured: ideal power by momentum theory (as in {@code
 * HoverCheck}), divided by a figure of merit of 0.62 and by the usual efficiency of motors and
 * controllers. Both values are common practice, no source.
 */
public final class HoverGuess {

  private static final double GRAVITY = 9.80665;
  private static final double DENSITY = 1.225;
  private static final double FIGURE_OF_MERIT = 0.62;
  private static final double DRIVE = 0.81;
  private static final double THROTTLE = 0.5;
  private static final int HALVINGS = 60;

  private HoverGuess() {}

  /**
   * Power of the motors at the bus.
   *
   * @param kilograms take-off mass
   * @param rotors number of rotors
   * @param diameter diameter of each rotor, m
   * @return W, without housekeeping
   */
  public static double motorWatts(double kilograms, int rotors, double diameter) {
    return motorWatts(kilograms, rotors, diameter, FIGURE_OF_MERIT, DRIVE);
  }

  /**
   * Power of the motors at the bus.
   *
   * @param kilograms take-off mass
   * @param rotors number of rotors
   * @param diameter diameter of each rotor, m
   * @param merit figure of merit of the propellers, 0 to 1
   * @param drive efficiency of motors and controllers together, 0 to 1
   * @return W, without housekeeping
   */
  public static double motorWatts(
      double kilograms, int rotors, double diameter, double merit, double drive) {
    double newtons = kilograms * GRAVITY / rotors;
    double disc = Math.PI * diameter * diameter / 4;
    double ideal = newtons * Math.sqrt(newtons / (2 * DENSITY * disc));
    return rotors * ideal / (merit * drive);
  }

  /**
   * The three profile lines of a hover point on an array in full sun.
   *
   * @param settings settings of the craft
   * @param watts power at the bus, housekeeping included, W
   * @return values by key
   */
  public static Map<String, String> lines(EstimatorSettings settings, double watts) {
    SolarArray array = settings.newArray();
    array.set(1, settings.thermal().ambientCelsius() + settings.thermal().sunRiseKelvin());
    array.solvePeak();
    double low = array.peakVolts();
    double high = array.openCircuitVolts();
    for (int i = 0; i < HALVINGS && watts < array.peakWatts(); i++) {
      double middle = 0.5 * (low + high);
      if (middle * array.ampsAt(middle) > watts) {
        low = middle;
      } else {
        high = middle;
      }
    }
    Map<String, String> lines = new LinkedHashMap<>();
    lines.put("rotor.hover_throttle", "" + THROTTLE);
    lines.put("rotor.hover_power_w", String.format(Locale.ROOT, "%.4g", watts));
    lines.put("rotor.hover_bus_v", String.format(Locale.ROOT, "%.4g", low));
    return lines;
  }
}
