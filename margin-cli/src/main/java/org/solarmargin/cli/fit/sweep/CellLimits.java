package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/**
 * Whether a fitted cell can be one silicon cell. A wrong count of cells in series multiplies
 * ideality and voltage per cell by the same factor, which no residual shows. Other cells may be
 * outside these limits, so that they are a reason for a caution and not for a refusal. The sources
 * are cited from memory.
 */
public final class CellLimits {

  /**
   * Ideality of a junction with recombination in the quasi-neutral regions (Shockley 1949). Fits of
   * published benchmark curves and of back-contact modules give 1.1 to 1.5.
   */
  private static final double LEAST_IDEALITY = 1;

  /**
   * Open-circuit voltage per cell from which recombination may be dominated by that of Auger in
   * high injection, for which the ideality decreases towards 2/3 (Sinton and Cuevas 1987), V:
   * common practice.
   */
  private static final double AUGER_VOLTS = 0.70;

  /** Ideality of recombination in the depletion region (Sah, Noyce and Shockley 1957). */
  private static final double MOST_IDEALITY = 2;

  /**
   * Greatest open-circuit voltage of a silicon cell in one sun at 25 C, V: the limit by Auger
   * recombination (Richter, Hermle and Glunz 2013).
   */
  private static final double MOST_VOLTS = 0.761;

  /**
   * Least open-circuit voltage, V: engineering judgement. The lowest of the published benchmark
   * curves, of a module of 1986, has 0.47 V at 45 C and thus about 0.51 V at 25 C.
   */
  private static final double LEAST_VOLTS = 0.45;

  private static final double SIGMAS = 2;

  private CellLimits() {}

  /**
   * What is implausible about a fit.
   *
   * @param fit of one sweep, or of several
   * @return sentences; empty if the cell is plausible
   */
  public static List<String> cautions(FitResult fit) {
    CellParameters cell = fit.cell();
    SolarArray one = new SolarArray(cell, 1, 1);
    one.solvePeak();
    double volts = one.openCircuitVolts();
    double sd = Math.max(fit.sd(DiodeParameters.LOG_N), SweepSet.LEAST_IDEALITY_SD);
    double n = cell.ideality();
    boolean known = fit.idealityKnown();
    List<String> found = new ArrayList<>();
    if (known && n * (1 + SIGMAS * sd) < LEAST_IDEALITY && volts < AUGER_VOLTS) {
      found.add(
          text(
              "an ideality of %.3f at an open-circuit voltage of %.3f V (silicon: below 1 only above"
                  + " %.2f V)",
              n, volts, AUGER_VOLTS));
    }
    if (known && n * (1 - SIGMAS * sd) > MOST_IDEALITY) {
      found.add(text("an ideality of %.3f (silicon: at most %.0f)", n, MOST_IDEALITY));
    }
    if (volts > MOST_VOLTS) {
      found.add(
          text("an open-circuit voltage of %.3f V (silicon: at most %.3f V)", volts, MOST_VOLTS));
    }
    if (volts < LEAST_VOLTS) {
      found.add(
          text("an open-circuit voltage of %.3f V (silicon: at least %.2f V)", volts, LEAST_VOLTS));
    }
    return found.isEmpty()
        ? List.of()
        : List.of(
            text(
                "each cell has %s by this fit, at 1000 W/m2 and 25 C. Is --series %d right?",
                String.join(" and ", found), fit.sweep().series()));
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
