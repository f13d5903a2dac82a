package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.GUST;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.THERMOMETER_OFFSET;
import static org.solarmargin.core.estimator.State.UNFILTERED;
import static org.solarmargin.core.estimator.State.VOC_COEFF;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import java.util.Arrays;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * Mean and covariance of the hidden states before the first sample. Sigmas without a source are
 * engineering judgement, not tuned.
 */
final class Prior {

  /** Sigma of the logarithm of the winding resistance. */
  static final double WINDING_LOG_SD = 0.5;

  /** Sigma of the logarithm of the propulsion constant due to gusts and climb. */
  static final double GUST_LOG_SD = 0.2;

  /** Light expected at switch-on, suns, and sigma of its logarithm. */
  private static final double INITIAL_SUNS = 0.85;

  private static final double INITIAL_LIGHT_SD = 0.3;

  /** Sigma of the departure of the cells from thermal steady state at switch-on, K. */
  private static final double INITIAL_THERMAL_SD = 2;

  /**
   * Sigma of the effective air temperature at take-off relative to the profile's, K: it includes
   * weather and differences in cooling.
   */
  private static final double INITIAL_AIR_SD = 6;

  /** Stationary sigma of the effective air temperature in flight in steady wind, K. */
  private static final double AIR_SD = 3;

  /**
   * The same on the ground, K: no rotor cools the cells, so that the effective air temperature is
   * tens of kelvin higher and varies.
   */
  private static final double GROUND_AIR_SD = 12;

  /** Copper loss in hover as a share of the winding voltage: common practice, no source. */
  private static final double COPPER_SHARE = 0.06;

  private static final double KNOWN_PROPULSION_LOG_SD = 0.15;
  private static final double GUESSED_PROPULSION_LOG_SD = 0.7;

  private final EstimatorSettings settings;
  private final double windingVolts;
  private final double logWinding;
  private final double logPropulsion;

  Prior(EstimatorSettings settings) {
    this.settings = settings;
    EstimatorSettings.Rotor rotor = settings.rotor();
    double watts = rotor.hoverWatts() - rotor.housekeepingWatts();
    windingVolts = rotor.hoverThrottle() * rotor.hoverBusVolts();
    logWinding = Math.log(RotorLoad.ohmsFrom(watts, windingVolts, COPPER_SHARE));
    logPropulsion = Math.log(RotorLoad.propulsionFrom(watts, windingVolts, COPPER_SHARE));
  }

  /** Logarithm of the winding resistance, ohm. */
  double logWinding() {
    return logWinding;
  }

  /** Logarithm of the propulsion constant, A/V2. */
  double logPropulsion() {
    return logPropulsion;
  }

  /** Sigma of the air state at take-off and landing, K. */
  static double initialAirSd(boolean airborne) {
    return airborne ? INITIAL_AIR_SD : GROUND_AIR_SD;
  }

  /** Stationary sigma of the air state, K. */
  static double airSd(boolean airborne) {
    return airborne ? AIR_SD : GROUND_AIR_SD;
  }

  void fill(double[] x, Covariance p) {
    double rise = settings.thermal().sunRiseKelvin() * INITIAL_SUNS;
    double lightVariance = square(INITIAL_LIGHT_SD);
    Arrays.fill(x, 0);
    p.clear();
    x[LIGHT] = Math.log(INITIAL_SUNS);
    x[CELL] = settings.thermal().ambientCelsius() + rise;
    x[PROPULSION] = logPropulsion;
    x[WINDING] = logWinding;
    p.set(LIGHT, LIGHT, lightVariance);
    // the cells start near their steady state in this light and air, which are both uncertain
    p.set(
        CELL,
        CELL,
        square(INITIAL_AIR_SD) + rise * rise * lightVariance + square(INITIAL_THERMAL_SD));
    p.set(CELL, LIGHT, rise * lightVariance);
    p.set(CELL, AIR, square(INITIAL_AIR_SD));
    p.set(AIR, AIR, square(INITIAL_AIR_SD));
    p.set(EMF, EMF, square(0.5 * windingVolts));
    p.set(GUST, GUST, square(GUST_LOG_SD));
    boolean known = settings.rotor().known();
    double propulsionSd = known ? KNOWN_PROPULSION_LOG_SD : GUESSED_PROPULSION_LOG_SD;
    p.set(PROPULSION, PROPULSION, square(propulsionSd));
    p.set(WINDING, WINDING, square(WINDING_LOG_SD));
    for (int j = ESTIMATED; j < UNFILTERED; j++) {
      p.set(j, j, square(constantSd(j)));
    }
  }

  /** Stated sigma of a constant of cells or sensors. */
  double constantSd(int state) {
    EstimatorSettings.Sensors sensors = settings.sensors();
    return switch (state) {
      case VOLTAGE_GAIN -> sensors.voltageGainSd();
      case CURRENT_GAIN -> sensors.currentGainSd();
      case CURRENT_OFFSET -> sensors.currentOffsetSdAmps();
      case SERIES -> settings.cellSpread().seriesLogSd();
      case VOC_COEFF -> settings.cellSpread().vocCoeffSdPerKelvin();
      case THERMOMETER_OFFSET -> Thermometer.OFFSET_SD;
      default -> settings.cellSpread().idealityLogSd();
    };
  }

  private static double square(double v) {
    return v * v;
  }
}
