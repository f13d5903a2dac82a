package org.solarmargin.cli.fit;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.option.OutputFile;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesException;

/** Compares a fitted cell with the one that a profile states until the fit replaces it. */
final class ProfileCell {

  /**
   * Largest ratio of the currents at 1000 W/m2: dirt, cover and ageing change them by less. This
   * limit and the next are engineering judgement.
   */
  private static final double MOST_RATIO = 1.5;

  /** Largest relative difference of the open-circuit voltages. */
  private static final double VOLTS_OFF = 0.15;

  /** Largest relative difference of two counts of the cells of one array. */
  private static final double MOST_MISCOUNTED = 0.2;

  private ProfileCell() {}

  /**
   * What contradicts the profile.
   *
   * @param fit of one sweep, or of several
   * @param profile not changed yet; one that states no valid cell is not compared
   * @return sentences; empty if there is no contradiction
   */
  static List<String> cautions(FitResult fit, OutputFile profile) throws IOException {
    CraftProfile before;
    try {
      before = CraftProfile.read(profile.path());
    } catch (PropertiesException incomplete) {
      return List.of();
    }
    SolarArray stated = solved(before.settings().cell());
    SolarArray fitted = solved(fit.cell());
    List<String> cautions = new ArrayList<>();
    double amps = fitted.shortCircuitAmps();
    double statedAmps = stated.shortCircuitAmps();
    if (Math.max(amps / statedAmps, statedAmps / amps) > MOST_RATIO) {
      cautions.add(
          String.format(
              Locale.ROOT,
              "each cell has a short-circuit current of %.3g A by this fit, but %.3g A by the"
                  + " profile, at 1000 W/m2 and 25 C. Is the light of %.0f W/m2 right (--irradiance,"
                  + " irradiance_w_m2), and --parallel %d?",
              amps,
              statedAmps,
              1000 * fit.sweep().meanSuns(),
              fit.sweep().parallel()));
    }
    double volts = fitted.openCircuitVolts();
    double statedVolts = stated.openCircuitVolts();
    if (Math.abs(volts / statedVolts - 1) > VOLTS_OFF) {
      cautions.add(
          String.format(
              Locale.ROOT,
              "each cell has an open-circuit voltage of %.3f V by this fit, but %.3f V by the"
                  + " profile, at 1000 W/m2 and 25 C. Is --series %d right? The profile's array has"
                  + " %d.",
              volts,
              statedVolts,
              fit.sweep().series(),
              before.settings().seriesCells()));
    } else if (mayBeMiscounted(fit.sweep().series(), before.settings().seriesCells())) {
      cautions.add(
          String.format(
              Locale.ROOT,
              "--series is %d, but the profile's array has %d cells in series. Count them: the cell"
                  + " is written, array.series_cells is not changed, and one of the two voltages is"
                  + " then wrong.",
              fit.sweep().series(),
              before.settings().seriesCells()));
    }
    return cautions;
  }

  /** Two counts of presumably the same array; a single cell or a part of the array differs more. */
  private static boolean mayBeMiscounted(int swept, int stated) {
    return swept != stated && Math.abs(swept - stated) <= MOST_MISCOUNTED * stated;
  }

  private static SolarArray solved(CellParameters cell) {
    SolarArray one = new SolarArray(cell, 1, 1);
    one.solvePeak();
    return one;
  }
}
