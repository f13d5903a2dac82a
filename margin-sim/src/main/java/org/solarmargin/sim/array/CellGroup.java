package org.solarmargin.sim.array;

/**
 * Equal cells in series, under the same light at the same temperature.
 *
 * <p>The model has two diodes, the first with a voltage linear in temperature ({@link SimCell}),
 * the second with silicon's band gap at ideality 2 (the square root of De Soto's growth, Solar
 * Energy 80, 2006), a shunt conductance proportional to the light, and Bishop's avalanche term
 * (Solar Cells 25, 1988): {@code I = IL - I1 (exp(u/a1) - 1) - I2 (exp(u/a2) - 1) - (u/Rsh) (1 + A
 * (1 - u/Vbr)^-m)}, {@code V = u - I Rs}. The avalanche term is neglected in forward bias (1e-6 A).
 * {@link #solve} finds u for a current by bracketed Newton iterations that start from the last u.
 */
final class CellGroup {

  private static final double K = 1.380649e-23 / 1.602176634e-19;
  private static final double REFERENCE = 298.15;
  private static final double GAP = 1.121;
  private static final double GAP_SLOPE = -0.0002677;
  private static final double RECOMBINATION_IDEALITY = 2;
  private static final double DARK = 1e-9;
  private static final int ITERATIONS = 60;
  private static final double TOLERANCE = 1e-11;

  private final SimCell cell;
  private final int count;
  private final double diodeVolts;

  private double photocurrent;
  private double saturation;
  private double recombination;
  private double thermal;
  private double thermal2;
  private double shunt;
  private double setSuns = Double.NaN;
  private double setKelvin = Double.NaN;

  private double u;
  private double amps;
  private double conductance;

  CellGroup(SimCell cell, int count) {
    this.cell = cell;
    this.count = count;
    this.diodeVolts =
        cell.ideality()
            * K
            * REFERENCE
            * StrictMath.log(cell.photocurrentAmps() / cell.saturationAmps());
  }

  void set(double suns, double kelvin) {
    double light = Math.max(suns, DARK);
    if (kelvin != setKelvin) {
      setKelvin = kelvin;
      double above = kelvin - REFERENCE;
      thermal = cell.ideality() * K * kelvin;
      double oneSun = cell.photocurrentAmps() * (1 + cell.photocurrentTempCoeff() * above);
      double volts = diodeVolts * (1 + cell.vocTempCoeff() * above);
      saturation = oneSun * StrictMath.exp(-volts / thermal);
      if (cell.recombinationAmps() > 0) {
        double gap = GAP * (1 + GAP_SLOPE * above);
        double growth =
            3 * StrictMath.log(kelvin / REFERENCE) + GAP / (K * REFERENCE) - gap / (K * kelvin);
        recombination = cell.recombinationAmps() * StrictMath.exp(growth / RECOMBINATION_IDEALITY);
      }
      thermal2 = RECOMBINATION_IDEALITY * K * kelvin;
      setSuns = Double.NaN;
    }
    if (light != setSuns) {
      setSuns = light;
      double rise = cell.photocurrentTempCoeff() * (kelvin - REFERENCE);
      photocurrent = light * cell.photocurrentAmps() * (1 + rise);
      shunt = light / cell.shuntOhms();
    }
  }

  /** Light-generated current, A: an upper bound of the group's current in forward bias. */
  double photocurrent() {
    return photocurrent;
  }

  private void evaluate(double diodeVolts) {
    double e1 = StrictMath.exp(diodeVolts / thermal);
    amps = photocurrent - saturation * (e1 - 1) - diodeVolts * shunt;
    conductance = saturation * e1 / thermal + shunt;
    if (recombination > 0) {
      double e2 = StrictMath.exp(diodeVolts / thermal2);
      amps -= recombination * (e2 - 1);
      conductance += recombination * e2 / thermal2;
    }
    if (diodeVolts < 0 && cell.breakdownShare() > 0) {
      double ratio = 1 - diodeVolts / cell.breakdownVolts();
      double m = cell.breakdownExponent();
      double factor = cell.breakdownShare() * StrictMath.pow(ratio, -m);
      amps -= diodeVolts * shunt * factor;
      conductance += shunt * factor * (1 + diodeVolts * m / (ratio * cell.breakdownVolts()));
    }
  }

  /** Current at a diode voltage, A. */
  double ampsAtDiode(double diodeVolts) {
    evaluate(diodeVolts);
    return amps;
  }

  /** Finds the diode voltage at which the group carries a current. */
  void solve(double current) {
    double low = cell.breakdownShare() > 0 ? cell.breakdownVolts() * (1 - 1e-9) : -1e4;
    double high =
        thermal * StrictMath.log1p(Math.max(photocurrent - current, 0) / saturation) + 1e-9;
    if (!(u > low && u < high)) {
      u = current < photocurrent ? high : -0.1;
    }
    double lastExcess = Double.POSITIVE_INFINITY;
    for (int i = 0; i < ITERATIONS; i++) {
      evaluate(u);
      double excess = amps - current;
      if (excess > 0) {
        low = u;
      } else {
        high = u;
      }
      double next = u + excess / conductance;
      boolean creeping = Math.abs(excess) > 0.5 * lastExcess;
      lastExcess = Math.abs(excess);
      if (creeping || !(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - u);
      u = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
  }

  /** Evaluates the group at its present diode voltage, for a joint step with other groups. */
  void evaluate() {
    if (!(Math.abs(u) < 100)) {
      u = 0;
    }
    evaluate(u);
  }

  /** Terminal voltage of the tangent at zero current, V. */
  double voltsAtNoCurrent() {
    return count * (u + amps / conductance);
  }

  /** Moves along the tangent to a current; returns the change of the diode voltage, V. */
  double move(double current) {
    double step = (amps - current) / conductance;
    u += step;
    return Math.abs(step);
  }

  /** Finds the current at a terminal voltage of the group; {@link #slope()} is then up to date. */
  double ampsAt(double volts) {
    double each = volts / count;
    double rs = cell.seriesOhms();
    // u - Rs I(u) increases monotonically with u, so the root stays bracketed
    double low = cell.breakdownShare() > 0 ? cell.breakdownVolts() * (1 - 1e-9) : -1e4;
    double high = Math.max(each, 0) + rs * photocurrent + 1e-9;
    if (!(u > low && u < high)) {
      u = high;
    }
    for (int i = 0; i < ITERATIONS; i++) {
      evaluate(u);
      double excess = u - rs * amps - each;
      if (excess > 0) {
        high = u;
      } else {
        low = u;
      }
      double next = u - excess / (1 + rs * conductance);
      if (!(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - u);
      u = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
    return amps;
  }

  /** Terminal voltage of the group at the solved current, V. */
  double volts(double current) {
    return count * (u - current * cell.seriesOhms());
  }

  /** dV/dI of the group at the solved current, ohm, negative. */
  double slope() {
    return -count * (1 / conductance + cell.seriesOhms());
  }
}
