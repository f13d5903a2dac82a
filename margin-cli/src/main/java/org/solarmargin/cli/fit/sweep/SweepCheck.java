package org.solarmargin.cli.fit.sweep;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.file.InputFault;

/**
 * Checks before and after the fit whether points can be a current-voltage curve of one uniform
 * array. Others are refused with the reason and what to do.
 */
final class SweepCheck {

  // the limits of this class without a source are engineering judgement
  private static final int FEWEST = 5;
  private static final double CELL_VOC_MIN = 0.3;
  private static final double CELL_VOC_MAX = 0.95;
  private static final double MILLI = 1000;
  private static final double USUAL_CELL_VOC = 0.62;
  private static final double PAST_OPEN_SHARE = 0.4;

  /** Deviations up to this many sigmas of the light at each point are attributed to the light. */
  private static final double LIGHT_SIGMAS = 4;

  /** Rms residual relative to the largest current above which the points are not one curve. */
  private static final double NOISE_SHARE = 0.03;

  private static final double REFERENCE_CELSIUS = 25;
  private static final double IDEALITY_MIN = 0.8;
  private static final double IDEALITY_MAX = 1.9;
  private static final double USUAL_VOC_MIN = 0.45;
  private static final double USUAL_VOC_MAX = 0.8;
  private static final double RUN_SHARE = 0.01;
  private static final double UNSTEADY_CORRELATION = 0.6;

  /**
   * Largest spread of the light within a sweep; more indicates clouds or points taken hours apart.
   */
  private static final double LIGHT_SPREAD = 0.25;

  private final Sweep sweep;
  private final int[] order;
  private final double most;
  private final double lightSlack;

  SweepCheck(Sweep sweep, double lightSd) {
    this.sweep = sweep;
    this.lightSlack = slack(lightSd);
    this.order = sweep.byVoltage();
    this.most = sweep.mostAmps();
  }

  /** Share of the largest current by which varying light alone may displace the points. */
  static double slack(double lightSd) {
    return LIGHT_SIGMAS * lightSd;
  }

  /** Throws an {@link InputFault} if these points cannot be fitted. */
  void before() {
    if (sweep.size() < FEWEST) {
      throw refusal(
          "a fit needs at least " + FEWEST + " points", sweep.size() + "", "measure more");
    }
    if (!(most > 0)) {
      throw refusal(
          "current_a must be positive out of the array", format(most), "reverse its sign");
    }
    scale();
    ends();
    double spread = sweep.sunsSpread();
    if (spread > LIGHT_SPREAD) {
      throw refusal(
          "the sun must be steady: irradiance_w_m2 varies by at most 25 %",
          format(100 * spread) + " %", "sweep again in steady sun");
    }
  }

  private void scale() {
    double perCell = sweep.mostVolts() / sweep.series();
    double swappedPerCell = most / sweep.series();
    if (perCell >= CELL_VOC_MIN && perCell <= CELL_VOC_MAX) {
      return;
    }
    if (perCell >= CELL_VOC_MIN * MILLI && perCell <= CELL_VOC_MAX * MILLI) {
      throw refusal(
          "voltage_v must be in volts",
          format(sweep.mostVolts()),
          "this looks like millivolts: divide by 1000");
    }
    if (swappedPerCell >= CELL_VOC_MIN && swappedPerCell <= CELL_VOC_MAX) {
      throw refusal(
          "voltage_v and current_a look interchanged: largest voltage over cells in series",
          format(perCell),
          "swap the columns");
    }
    throw refusal(
        "open-circuit voltage over cells in series must be in ["
            + CELL_VOC_MIN
            + ", "
            + CELL_VOC_MAX
            + "] V",
        format(perCell),
        "--series may be about "
            + Math.max(Math.round(sweep.mostVolts() / USUAL_CELL_VOC), 1)
            + ", or voltage_v is in another unit, or the sweep ends far short of open circuit");
  }

  private void ends() {
    long past = Arrays.stream(order).filter(i -> sweep.amps(i) < 0).count();
    if (past > PAST_OPEN_SHARE * sweep.size()) {
      throw refusal(
          "at most 40 % of the points may lie past open circuit (negative current)",
          past + " of " + sweep.size(), "sweep from short circuit to open circuit");
    }
    int peak = 0;
    for (int k = 0; k < order.length; k++) {
      if (power(k) > power(peak)) {
        peak = k;
      }
    }
    if (peak == order.length - 1) {
      throw refusal(
          "the points must extend past the maximum power point, which lies at a higher voltage",
          format(sweep.volts(order[peak])) + " V",
          "add larger resistances");
    }
    if (peak == 0) {
      throw refusal(
          "the points must reach the maximum power point, which lies at a lower voltage",
          format(sweep.volts(order[0])) + " V",
          "add smaller resistances");
    }
  }

  private double power(int k) {
    return sweep.volts(order[k]) * sweep.amps(order[k]);
  }

  /**
   * Throws an {@link InputFault} if the current falls in steps.
   *
   * @param vocCoeff relative temperature coefficient of the voltage, where temperatures differ
   */
  void steps(double vocCoeff) {
    Sweep level = sweep.atMeanTemperature(vocCoeff * sweep.mostVolts());
    List<Double> steps = new StepFinder(level).volts(lightSlack);
    if (!steps.isEmpty()) {
      StringBuilder at = new StringBuilder();
      for (double volts : steps) {
        at.append(at.length() == 0 ? "" : ", ").append(format(volts));
      }
      throw stepped(
          "a curve must have one knee, but here the current falls in steps",
          "at about " + at + " V",
          "a cell is shaded, cracked or dirty, or a bypass diode conducts: inspect the array");
    }
  }

  /** Throws an {@link InputFault} if the fit shows that no single curve was measured. */
  void after(FitResult fit) {
    double share = fit.rms() / most - lightSlack;
    if (share > NOISE_SHARE && swappedFitsBetter(fit)) {
      throw refusal(
          "voltage_v and current_a look interchanged: rms over the largest current",
          format(100 * share) + " %",
          "swap the columns");
    }
    if (share > RUN_SHARE && runs(fit) > UNSTEADY_CORRELATION) {
      if (sorted()) {
        throw stepped(
            "the points deviate from every curve with one knee, rms",
            format(100 * share) + " % of the current",
            "a cell is shaded, cracked or dirty, or the light changed: inspect the array");
      }
      throw refusal(
          "the sun must be steady, but the residuals drift from point to point, rms",
          format(100 * share) + " % of the current",
          "give irradiance_w_m2 for each point, or --light-drift");
    }
    double ideality = fit.cell().ideality();
    double open = fit.array(1, REFERENCE_CELSIUS).openCircuitVolts() / sweep.series();
    boolean unusualIdeality = ideality < IDEALITY_MIN || ideality > IDEALITY_MAX;
    if (unusualIdeality && (open < USUAL_VOC_MIN || open > USUAL_VOC_MAX) && fit.idealityKnown()) {
      throw refusal(
          "ideality and Voc of one cell are outside the range of real cells",
          format(ideality) + " and " + format(open) + " V",
          "--series may be about "
              + Math.max(Math.round(sweep.series() * open / USUAL_CELL_VOC), 1));
    }
    if (share > NOISE_SHARE) {
      throw refusal(
          "rms must be at most 3 % of the largest current; the points are too noisy, or not one"
              + " curve",
          format(100 * share) + " %", "sweep again in steady sun, and check the leads");
    }
  }

  private boolean swappedFitsBetter(FitResult fit) {
    try {
      FitResult swapped = new SingleDiodeFit(sweep.swapped(), fit.options()).run();
      double share = swapped.rms() / sweep.mostVolts();
      return share < 0.3 * fit.rms() / most;
    } catch (InputFault | IllegalArgumentException e) {
      return false;
    }
  }

  /** Whether the points were taken in order of increasing or decreasing voltage. */
  private boolean sorted() {
    int up = 0;
    for (int i = 1; i < sweep.size(); i++) {
      up += sweep.volts(i) > sweep.volts(i - 1) ? 1 : 0;
    }
    return up < 0.1 * sweep.size() || up > 0.9 * (sweep.size() - 1);
  }

  /** Correlation of successive residuals, in the order of measurement. */
  private double runs(FitResult fit) {
    double product = 0;
    double square = 0;
    for (int i = 1; i < sweep.size(); i++) {
      product += fit.residual(i) * fit.residual(i - 1);
      square += fit.residual(i) * fit.residual(i);
    }
    return square > 0 ? product / square : 0;
  }

  private InputFault refusal(String rule, String value, String toDo) {
    return refusal(SweepState.REFUSED, rule, value, toDo);
  }

  private InputFault stepped(String rule, String value, String toDo) {
    return refusal(SweepState.STEPPED, "STEPPED: " + rule, value, toDo);
  }

  private InputFault refusal(SweepState state, String rule, String value, String toDo) {
    return new SweepRefusal(state, sweep.name() + ": " + rule + ": " + value + ": " + toDo);
  }

  private static String format(double value) {
    return String.format(Locale.ROOT, "%.4g", value);
  }
}
