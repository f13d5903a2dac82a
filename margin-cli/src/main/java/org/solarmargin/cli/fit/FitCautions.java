package org.solarmargin.cli.fit;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.fit.sweep.CellLimits;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;
import org.solarmargin.cli.option.OutputFile;

/** Cautions of a fitted cell that cannot be the one that was swept. */
final class FitCautions {

  private static final int WIDTH = 80;

  private FitCautions() {}

  /**
   * All cautions.
   *
   * @param fit of one sweep, or of several
   * @param into profile that the fit will change, as it is before; null for none
   * @return sentences, usually none
   */
  static List<String> of(FitResult fit, OutputFile into) throws IOException {
    List<String> cautions = new ArrayList<>(CellLimits.cautions(fit));
    if (into != null) {
      cautions.addAll(ProfileCell.cautions(fit, into));
    }
    return cautions;
  }

  static void print(List<String> cautions, Lines out) {
    for (String caution : cautions) {
      Wrapped.lines("Caution: " + caution, WIDTH).forEach(out::text);
    }
  }
}
