package org.solarmargin.cli.fit.rotor;

import org.solarmargin.cli.fit.numeric.Root;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/** The hover point of a craft on its array in full sun, from a stand's readings. */
public final class Hover {

  /**
   * Lower bound relative to the estimate in calm flight: median of matched flights, see
   * ACCURACY.md.
   */
  private static final double LOW_SHARE = 0.94;

  private final CraftProfile profile;
  private final double gramsPerStand;
  private final double watts;
  private final double volts;
  private final double throttle;
  private final double availableWatts;
  private final boolean measured;

  /**
   * A hover point.
   *
   * @param motorsOnStand number of motors on the stand
   * @param densityRatio air density relative to that at the stand
   */
  public Hover(
      CraftProfile profile,
      double kilograms,
      int motorsOnStand,
      RotorFit fit,
      ThrustLaw law,
      double densityRatio) {
    this.profile = profile;
    double stands = (double) profile.rotors() / motorsOnStand;
    gramsPerStand = 1000 * kilograms / stands;
    measured = gramsPerStand >= law.leastGrams() && gramsPerStand <= law.mostGrams();
    double each = law.watts(gramsPerStand, densityRatio);
    EstimatorSettings settings = profile.settings();
    watts = stands * each + settings.rotor().housekeepingWatts();
    SolarArray array = settings.newArray();
    array.set(1, settings.thermal().ambientCelsius() + settings.thermal().sunRiseKelvin());
    array.solvePeak();
    availableWatts = array.peakWatts();
    volts = busVolts(array, watts);
    throttle = fit.windingVolts(each, densityRatio) / volts;
  }

  /**
   * Bus voltage above the knee at which the array delivers a power; that of the knee if it cannot.
   */
  private static double busVolts(SolarArray array, double watts) {
    if (watts >= array.peakWatts()) {
      return array.peakVolts();
    }
    return Root.of(
        volts -> volts * array.ampsAt(volts) - watts, array.peakVolts(), array.openCircuitVolts());
  }

  /** Thrust required of the motors on one stand, g. */
  public double gramsPerStand() {
    return gramsPerStand;
  }

  /** Whether that thrust is within the measured range. */
  public boolean measured() {
    return measured;
  }

  /** Bus power, housekeeping included, W. */
  public double watts() {
    return watts;
  }

  /** Bus voltage, V; that of the knee if the array cannot power the hover. */
  public double volts() {
    return volts;
  }

  /** Throttle, 0 to 1; above 1 where the motors cannot turn fast enough. */
  public double throttle() {
    return throttle;
  }

  /** Power available in full sun at flight temperature, W. */
  public double availableWatts() {
    return availableWatts;
  }

  /** Margin in steady full sun, percent of the demand. */
  public double marginPercent() {
    return 100 * (availableWatts / watts - 1);
  }

  /** The highest alert level that this hover causes, evaluated with the usual lower bound. */
  public AlertLevel alertLevel() {
    double low = 100 * (LOW_SHARE * availableWatts / watts - 1);
    AlertRules rules = profile.rules();
    if (low < rules.warning().marginPercent()) {
      return AlertLevel.WARNING;
    }
    if (low < rules.caution().marginPercent()) {
      return AlertLevel.CAUTION;
    }
    return low < rules.advisory().marginPercent() ? AlertLevel.ADVISORY : AlertLevel.NONE;
  }

  /** Whether the craft can hover in full sun at less than full throttle. */
  public boolean flies() {
    return watts < availableWatts && throttle < 1;
  }
}
