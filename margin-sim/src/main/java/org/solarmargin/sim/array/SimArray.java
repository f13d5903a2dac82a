package org.solarmargin.sim.array;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;

/**
 * The whole array: current from voltage, the first power peak and the highest.
 *
 * <p>Compared with ngspice over the whole curve ({@code NgspiceTest}). Equal strings are solved
 * only once. Mutable; one thread at a time.
 */
public final class SimArray {

  private static final int SCAN = 60;

  /** Relative decrease of power after which a peak has been passed. */
  private static final double DIP = 0.01;

  private static final int GOLDEN = 40;
  private static final double GOLDEN_RATIO = 0.6180339887498949;
  private static final double PEAK_TOLERANCE = 1e-5;

  private final SimString[] strings;
  private final int[] multiplicity;

  private double peakVolts = Double.NaN;
  private double peakWatts;
  private double slope;

  /**
   * Creates an array at 1 sun and 25 degrees Celsius.
   *
   * @param layout its wiring
   */
  public SimArray(ArrayLayout layout) {
    List<StringLayout> kinds = new ArrayList<>();
    List<Integer> counts = new ArrayList<>();
    for (StringLayout string : layout.strings()) {
      int at = kinds.indexOf(string);
      if (at < 0) {
        kinds.add(string);
        counts.add(1);
      } else {
        counts.set(at, counts.get(at) + 1);
      }
    }
    strings =
        kinds.stream()
            .map(kind -> new SimString(kind, layout.blockingDiodes()))
            .toArray(SimString[]::new);
    multiplicity = counts.stream().mapToInt(Integer::intValue).toArray();
    set(1, 298.15);
  }

  /**
   * Sets light and temperature of all cells, each with its own factor and offset, without shadows
   * of parts of the craft.
   *
   * @param suns light over 1000 W/m2
   * @param kelvin cell temperature
   */
  public void set(double suns, double kelvin) {
    set(suns, kelvin, Double.NEGATIVE_INFINITY);
  }

  /**
   * Sets light and temperature of all cells, each with its own factor, offset and shadow.
   *
   * @param suns light over 1000 W/m2
   * @param kelvin cell temperature
   * @param seconds time for the intermittent shadows, s
   */
  public void set(double suns, double kelvin, double seconds) {
    for (SimString string : strings) {
      string.set(suns, kelvin, seconds);
    }
  }

  /** Removes one string from the circuit, as by a broken joint; the last string is kept. */
  public void loseString() {
    for (int i = 0; i < strings.length; i++) {
      if (multiplicity[i] > 0 && strings() > 1) {
        multiplicity[i]--;
        peakVolts = Double.NaN;
        return;
      }
    }
  }

  private int strings() {
    int sum = 0;
    for (int count : multiplicity) {
      sum += count;
    }
    return sum;
  }

  /**
   * Bus current at a bus voltage.
   *
   * @param volts V
   * @return A
   */
  public double ampsAt(double volts) {
    double sum = 0;
    slope = 0;
    for (int i = 0; i < strings.length; i++) {
      if (multiplicity[i] > 0) {
        sum += multiplicity[i] * strings[i].ampsAt(volts);
        slope += multiplicity[i] / strings[i].slope();
      }
    }
    return sum;
  }

  /**
   * Slope of the curve at the voltage of the last {@link #ampsAt}.
   *
   * @return dI/dV, A/V, negative
   */
  public double ampsPerVolt() {
    return slope;
  }

  /**
   * The highest of the strings' open-circuit voltages, above which no current flows out.
   *
   * @return V
   */
  public double openCircuitVolts() {
    double most = 0;
    for (int i = 0; i < strings.length; i++) {
      if (multiplicity[i] > 0) {
        most = Math.max(most, strings[i].voltsAt(0));
      }
    }
    return most;
  }

  /** Finds the maximum over the whole curve by a scan and a refinement of its best point. */
  public void solvePeakGlobally() {
    double open = openCircuitVolts();
    double best = 0;
    int at = 1;
    for (int i = SCAN - 1; i > 0; i--) {
      double volts = open * i / SCAN;
      double watts = volts * ampsAt(volts);
      if (watts > best) {
        best = watts;
        at = i;
      }
    }
    peakVolts = open * at / SCAN;
    followPeak();
  }

  /**
   * Finds the first power peak counted from open circuit, up to which the craft can fly. A craft
   * that demands more drops into the dip behind it, even if a second peak beyond the dip is higher.
   * Dips of less than one percent are ignored.
   */
  public void solveFirstPeak() {
    double open = openCircuitVolts();
    double best = 0;
    int at = 1;
    for (int i = SCAN - 1; i > 0; i--) {
      double volts = open * i / SCAN;
      double watts = volts * ampsAt(volts);
      if (watts > best) {
        best = watts;
        at = i;
      } else if (watts < (1 - DIP) * best) {
        break;
      }
    }
    peakVolts = open * at / SCAN;
    followPeak();
  }

  /**
   * Tracks the last maximum after a small change of light or temperature; searches globally if
   * there is none yet.
   */
  public void followPeak() {
    if (Double.isNaN(peakVolts)) {
      solvePeakGlobally();
      return;
    }
    // the derivative of V I(V) is I + V dI/dV: its root by the secant method, else golden section
    double v0 = peakVolts;
    double g0 = ampsAt(v0) + v0 * slope;
    double v1 = v0 * (1 + (g0 > 0 ? 1e-3 : -1e-3));
    double g1 = ampsAt(v1) + v1 * slope;
    for (int i = 0; i < 8; i++) {
      double step = g1 * (v1 - v0) / (g1 - g0);
      if (!(Math.abs(step) < 0.02 * v1)) {
        golden(0.94 * peakVolts, 1.06 * peakVolts);
        return;
      }
      v0 = v1;
      g0 = g1;
      v1 -= step;
      double amps = ampsAt(v1);
      g1 = amps + v1 * slope;
      if (Math.abs(step) < PEAK_TOLERANCE * v1) {
        peakVolts = v1;
        peakWatts = v1 * amps;
        return;
      }
    }
    golden(0.94 * peakVolts, 1.06 * peakVolts);
  }

  private void golden(double from, double to) {
    double a = from;
    double b = to;
    double c = b - GOLDEN_RATIO * (b - a);
    double d = a + GOLDEN_RATIO * (b - a);
    double pc = c * ampsAt(c);
    double pd = d * ampsAt(d);
    for (int i = 0; i < GOLDEN && b - a > 1e-9 * b; i++) {
      if (pc > pd) {
        b = d;
        d = c;
        pd = pc;
        c = b - GOLDEN_RATIO * (b - a);
        pc = c * ampsAt(c);
      } else {
        a = c;
        c = d;
        pc = pd;
        d = a + GOLDEN_RATIO * (b - a);
        pd = d * ampsAt(d);
      }
    }
    peakVolts = 0.5 * (a + b);
    peakWatts = peakVolts * ampsAt(peakVolts);
  }

  /**
   * Voltage of the maximum power.
   *
   * @return V
   */
  public double peakVolts() {
    return peakVolts;
  }

  /**
   * The maximum power.
   *
   * @return W
   */
  public double peakWatts() {
    return peakWatts;
  }
}
