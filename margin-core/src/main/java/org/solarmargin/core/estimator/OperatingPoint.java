package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * Where the array's curve meets the load line of motors and housekeeping, and how the sensors'
 * readings there move with each hidden quantity.
 *
 * <p>The rotors' speed is a state, so the motors draw {@code throttle (throttle V - E) / R}: a
 * steep straight line that meets the falling curve once, on either side of the knee. That is why
 * the current can be hidden without the estimate becoming ambiguous. The meeting point is found by
 * Newton's method in the diode voltage, at most {@value #ITERATIONS} steps.
 */
final class OperatingPoint {

  private static final int ITERATIONS = 40;

  /** V; Newton doubles its digits, so the step after this one would be far below any sensor. */
  private static final double TOLERANCE = 1e-6;

  private static final double LOWEST_CELL_VOLTS = 0.1;

  private final CellCurve curve;
  private final int series;
  private final int parallel;
  private final double housekeepingWatts;

  private double diodeVolts = Double.NaN;
  private double ohms;
  private double volts;
  private double amps;

  private final double[] voltageRow = new double[State.SIZE];
  private final double[] currentRow = new double[State.SIZE];

  OperatingPoint(SolarArray array, double housekeepingWatts) {
    this.curve = array.curve();
    this.series = array.seriesCells();
    this.parallel = array.parallelStrings();
    this.housekeepingWatts = housekeepingWatts;
  }

  void reset() {
    diodeVolts = Double.NaN;
  }

  double volts() {
    return volts;
  }

  double amps() {
    return amps;
  }

  /** How the voltage reading moves with each state, at the last differentiated point. */
  double[] voltageRow() {
    return voltageRow;
  }

  /** How the current reading moves with each state, at the last differentiated point. */
  double[] currentRow() {
    return currentRow;
  }

  /** Solves for the point; the curve must stand at the state's light and temperature. */
  void solve(double[] x, double throttle) {
    ohms = Math.exp(x[WINDING]);
    double rs = curve.seriesOhms();
    double open = curve.openCircuitEstimate();
    double u = diodeVolts <= open ? diodeVolts : open;
    // the net current falls with u all the way, so the root stays bracketed
    double high = open;
    double low = -1;
    for (int i = 0; i < ITERATIONS; i++) {
      curve.moveTo(u);
      double cellAmps = curve.atAmps();
      double g = curve.atConductance();
      volts = series * (u - rs * cellAmps);
      amps = parallel * cellAmps;
      double drive = throttle * volts - x[EMF];
      double motor = drive > 0 ? throttle * drive / ohms : 0;
      double loadSlope = (drive > 0 ? throttle * throttle / ohms : 0) + housePerVolt();
      double house = housekeepingWatts / Math.max(volts, LOWEST_CELL_VOLTS * series);
      double net = amps - motor - house;
      double slope = -parallel * g - loadSlope * series * (1 + rs * g);
      if (net > 0) {
        low = u;
      } else {
        high = u;
      }
      double next = u - net / slope;
      if (!(next >= low && next <= high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - u);
      u = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
    diodeVolts = u;
    curve.moveTo(u);
    amps = parallel * curve.atAmps();
    volts = series * (u - rs * curve.atAmps());
  }

  /** Slope of the housekeeping current, which is a constant power down to a lowest voltage. */
  private double housePerVolt() {
    return volts > LOWEST_CELL_VOLTS * series ? -housekeepingWatts / (volts * volts) : 0;
  }

  /**
   * Moves the point along its own derivatives to a state close by; the next solve is exact again.
   */
  void shift(double[] from, double[] to) {
    double dVolts = 0;
    double dAmps = 0;
    for (int j = 0; j < State.ESTIMATED; j++) {
      double moved = to[j] - from[j];
      dVolts += voltageRow[j] * moved;
      dAmps += currentRow[j] * moved;
    }
    volts += dVolts / (1 + to[VOLTAGE_GAIN]);
    amps += dAmps / (1 + to[CURRENT_GAIN]);
  }

  /** Fills the measurement rows at the solved point. */
  void differentiate(double[] x, double throttle) {
    double rs = curve.seriesOhms();
    double g = curve.atConductance();
    double cellAmps = curve.atAmps();
    double drive = throttle * volts - x[EMF];
    boolean driven = drive > 0;
    double loadPerVolt = (driven ? throttle * throttle / ohms : 0) + housePerVolt();
    double voltsPerU = series * (1 + rs * g);
    double ampsPerU = -parallel * g;
    double perNet = 1 / (ampsPerU - loadPerVolt * voltsPerU);
    curveColumn(LIGHT, curve.atAmpsPerLogSuns(), 0, loadPerVolt, voltsPerU, ampsPerU, perNet, x);
    curveColumn(CELL, curve.atAmpsPerKelvin(), 0, loadPerVolt, voltsPerU, ampsPerU, perNet, x);
    curveColumn(
        IDEALITY, curve.atAmpsPerLogIdeality(), 0, loadPerVolt, voltsPerU, ampsPerU, perNet, x);
    curveColumn(SERIES, 0, -rs * cellAmps, loadPerVolt, voltsPerU, ampsPerU, perNet, x);
    loadColumn(EMF, driven ? -throttle / ohms : 0, voltsPerU, ampsPerU, perNet, x);
    loadColumn(WINDING, driven ? -throttle * drive / ohms : 0, voltsPerU, ampsPerU, perNet, x);
    voltageRow[VOLTAGE_GAIN] = volts;
    currentRow[CURRENT_GAIN] = amps;
    currentRow[CURRENT_OFFSET] = 1;
  }

  /** A state that moves the array's curve: cell amps and cell volts at fixed diode voltage. */
  private void curveColumn(
      int state,
      double cellAmps,
      double extraCellVolts,
      double loadPerVolt,
      double voltsPerU,
      double ampsPerU,
      double perNet,
      double[] x) {
    double dAmps = parallel * cellAmps;
    double dVolts = series * (extraCellVolts - curve.seriesOhms() * cellAmps);
    double du = -(dAmps - loadPerVolt * dVolts) * perNet;
    voltageRow[state] = (1 + x[VOLTAGE_GAIN]) * (dVolts + voltsPerU * du);
    currentRow[state] = (1 + x[CURRENT_GAIN]) * (dAmps + ampsPerU * du);
  }

  /** A state that moves the load line by {@code loadAmps} at fixed voltage. */
  private void loadColumn(
      int state, double loadAmps, double voltsPerU, double ampsPerU, double perNet, double[] x) {
    double du = loadAmps * perNet;
    voltageRow[state] = (1 + x[VOLTAGE_GAIN]) * voltsPerU * du;
    currentRow[state] = (1 + x[CURRENT_GAIN]) * ampsPerU * du;
  }
}
