package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.VOC_COEFF;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * The intersection of the array's curve with the load line of motors and housekeeping, and the
 * Jacobian of the sensors' readings there.
 *
 * <p>The rotor speed is a state, so the motors draw {@code throttle (throttle V - E) / R}: a steep
 * straight line that intersects the falling curve once, on either side of the knee. The current can
 * therefore be hidden without ambiguity. The intersection is found by Newton's method in the diode
 * voltage, in at most {@value #ITERATIONS} steps.
 */
final class OperatingPoint {

  private static final int ITERATIONS = 40;

  /** Newton steps after a warm start before a bracket is computed, which costs a logarithm. */
  private static final int FREE_STEPS = 3;

  /**
   * Last step, V: Newton's method converges quadratically, so the remaining error is far below the
   * resolution of any sensor.
   */
  private static final double TOLERANCE = 1e-5;

  private static final double LOWEST_CELL_VOLTS = 0.1;

  /** Largest distance of the point of the Jacobian from the solved point, V of each diode. */
  private static final double DIODE_REACH = 0.02;

  private final CellCurve curve;
  private final int series;
  private final int parallel;
  private final double housekeepingWatts;

  private double diodeVolts = Double.NaN;
  private final IncrementalExponential winding = new IncrementalExponential();
  private double ohms;
  private double volts;
  private double amps;

  // derivatives with respect to the diode voltage u at the point that was differentiated last
  private double loadPerVolt;
  private double voltsPerU;
  private double ampsPerU;
  private double perNet;

  private final double[] voltageJacobian = new double[State.SIZE];
  private final double[] currentJacobian = new double[State.SIZE];

  OperatingPoint(SolarArray array, double housekeepingWatts) {
    this.curve = array.curve();
    this.series = array.seriesCells();
    this.parallel = array.parallelStrings();
    this.housekeepingWatts = housekeepingWatts;
  }

  void reset() {
    diodeVolts = Double.NaN;
    winding.forget();
  }

  double volts() {
    return volts;
  }

  double amps() {
    return amps;
  }

  /** Derivatives of the voltage reading with respect to the states, at that point. */
  double[] voltageJacobian() {
    return voltageJacobian;
  }

  /** Derivatives of the current reading with respect to the states, at that point. */
  double[] currentJacobian() {
    return currentJacobian;
  }

  /** Winding resistance at a state, ohm. */
  double ohms(double[] x) {
    return winding.of(x[WINDING]);
  }

  /** Solves for the point; the curve must be set to the state's light and temperature. */
  void solve(double[] x, double throttle) {
    ohms = ohms(x);
    double rs = curve.seriesOhms();
    boolean warm = diodeVolts > -1;
    double high = warm ? Double.POSITIVE_INFINITY : curve.openCircuitEstimate();
    double u = warm ? diodeVolts : high;
    double low = -1;
    for (int i = 0; i < ITERATIONS; i++) {
      // the net current decreases monotonically with u, so the root stays bracketed
      if (i == FREE_STEPS) {
        high = Math.min(high, curve.openCircuitEstimate());
        u = Math.min(u, high);
      }
      curve.moveTo(u);
      double cellAmps = curve.atAmps();
      double g = curve.atConductance();
      volts = series * (u - rs * cellAmps);
      amps = parallel * cellAmps;
      double drive = throttle * volts - x[EMF];
      double motor = drive > 0 ? throttle * drive / ohms : 0;
      double loadSlope = (drive > 0 ? throttle * throttle / ohms : 0) + housePerVolt();
      double house = houseAmps(volts);
      double net = amps - motor - house;
      double slope = -parallel * g - loadSlope * series * (1 + rs * g);
      if (net > 0) {
        low = u;
      } else {
        high = u;
      }
      double next = u - net / slope;
      if (!(next >= low && next <= high)) {
        high = Math.min(high, curve.openCircuitEstimate());
        next = 0.5 * (low + high);
      }
      double step = next - u;
      u = next;
      if (Math.abs(step) < TOLERANCE) {
        curve.nudge(step);
        break;
      }
    }
    diodeVolts = u;
    amps = parallel * curve.atAmps();
    volts = series * (u - rs * curve.atAmps());
  }

  /** Current that motors and housekeeping draw in a state at a bus voltage, A. */
  double loadAmps(double[] x, double throttle, double busVolts) {
    return loadAmps(x[EMF], ohms(x), throttle, busVolts);
  }

  /** The same once the rotors are at their steady speed in still air. */
  double steadyAmps(double[] x, double throttle, double busVolts) {
    double resistance = Math.exp(x[WINDING]);
    double emf =
        RotorLoad.steadyBackEmf(throttle * busVolts, resistance, Math.exp(x[State.PROPULSION]));
    return loadAmps(emf, resistance, throttle, busVolts);
  }

  private double loadAmps(double emf, double resistance, double throttle, double busVolts) {
    double drive = Math.max(throttle * busVolts - emf, 0);
    return throttle * drive / resistance + houseAmps(busVolts);
  }

  private double houseAmps(double busVolts) {
    return housekeepingWatts / Math.max(busVolts, LOWEST_CELL_VOLTS * series);
  }

  /** Slope of the housekeeping current, whose power is constant above a lowest voltage. */
  private double housePerVolt() {
    return volts > LOWEST_CELL_VOLTS * series ? -housekeepingWatts / (volts * volts) : 0;
  }

  /**
   * Moves the point to a nearby state by its derivatives, to first order; the next solve is exact.
   */
  void shift(double[] from, double[] to) {
    double dVolts = 0;
    double dAmps = 0;
    for (int j = 0; j < State.ESTIMATED; j++) {
      double moved = to[j] - from[j];
      dVolts += voltageJacobian[j] * moved;
      dAmps += currentJacobian[j] * moved;
    }
    volts += dVolts / (1 + to[VOLTAGE_GAIN]);
    amps += dAmps / (1 + to[CURRENT_GAIN]);
  }

  /**
   * Computes the Jacobian of the readings at the solved point or at one near it.
   *
   * @param lightShift logarithm of the ratio of the light there to the state's
   * @param emfShift back-EMF there minus the state's, V
   */
  void differentiate(double[] x, double throttle, double lightShift, double emfShift) {
    double rs = curve.seriesOhms();
    double cellAmps = curve.atAmps();
    double atVolts = volts;
    if (lightShift != 0 || emfShift != 0) {
      double u = diodeVolts + diodeShift(x, throttle, lightShift, emfShift);
      curve.moveTo(u);
      cellAmps = curve.atAmps() + lightShift * curve.atAmpsPerLogSuns();
      atVolts = series * (u - rs * cellAmps);
    }
    double g = curve.atConductance();
    double drive = throttle * atVolts - x[EMF] - emfShift;
    boolean driven = drive > 0;
    loadPerVolt = loadPerVolt(driven, throttle);
    voltsPerU = series * (1 + rs * g);
    ampsPerU = -parallel * g;
    perNet = 1 / (ampsPerU - loadPerVolt * voltsPerU);
    double perLogSuns = (1 + lightShift) * curve.atAmpsPerLogSuns();
    curveColumn(LIGHT, perLogSuns, 0, x);
    curveColumn(CELL, curve.atAmpsPerKelvin(), 0, x);
    curveColumn(IDEALITY, curve.atAmpsPerLogIdeality(), 0, x);
    curveColumn(VOC_COEFF, curve.atAmpsPerVocCoeff(), 0, x);
    curveColumn(SERIES, 0, -rs * cellAmps, x);
    loadColumn(EMF, driven ? -throttle / ohms : 0, x);
    loadColumn(WINDING, driven ? -throttle * drive / ohms : 0, x);
    voltageJacobian[VOLTAGE_GAIN] = atVolts;
    currentJacobian[CURRENT_GAIN] = parallel * cellAmps;
    currentJacobian[CURRENT_OFFSET] = 1;
  }

  /** Change of the diode voltage with light and back-EMF, to first order, V. */
  private double diodeShift(double[] x, double throttle, double lightShift, double emfShift) {
    double rs = curve.seriesOhms();
    double g = curve.atConductance();
    boolean driven = throttle * volts - x[EMF] > 0;
    double loadPerVolt = loadPerVolt(driven, throttle);
    double fromLight =
        lightShift * curve.atAmpsPerLogSuns() * (parallel + loadPerVolt * series * rs);
    double fromEmf = driven ? throttle / ohms * emfShift : 0;
    double perDiodeVolt = parallel * g + loadPerVolt * series * (1 + rs * g);
    double shift = (fromLight + fromEmf) / perDiodeVolt;
    return StateBounds.clamp(shift, -DIODE_REACH, DIODE_REACH);
  }

  private double loadPerVolt(boolean driven, double throttle) {
    return (driven ? throttle * throttle / ohms : 0) + housePerVolt();
  }

  /** Column of a state that changes the curve: cell amps and cell volts at fixed diode voltage. */
  private void curveColumn(int state, double cellAmps, double extraCellVolts, double[] x) {
    double dAmps = parallel * cellAmps;
    double dVolts = series * (extraCellVolts - curve.seriesOhms() * cellAmps);
    double du = -(dAmps - loadPerVolt * dVolts) * perNet;
    voltageJacobian[state] = (1 + x[VOLTAGE_GAIN]) * (dVolts + voltsPerU * du);
    currentJacobian[state] = (1 + x[CURRENT_GAIN]) * (dAmps + ampsPerU * du);
  }

  /** Column of a state that changes the load current by {@code loadAmps} at fixed voltage. */
  private void loadColumn(int state, double loadAmps, double[] x) {
    double du = loadAmps * perNet;
    voltageJacobian[state] = (1 + x[VOLTAGE_GAIN]) * voltsPerU * du;
    currentJacobian[state] = (1 + x[CURRENT_GAIN]) * ampsPerU * du;
  }
}
