package org.solarmargin.cli.fit;

import java.io.PrintWriter;
import java.util.function.Function;
import org.solarmargin.cli.fit.sweep.FitResult;
import org.solarmargin.cli.fit.sweep.PeerComparison;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;

/** Rated values and what the bench shows, as text of 80 columns. */
final class CellText {

  private final Lines out;

  CellText(PrintWriter out) {
    this.out = new Lines(out);
  }

  /** The closing lines. */
  void cautions(double openCircuitVolts) {
    out.blank();
    BenchCautions cautions = new BenchCautions(out);
    cautions.cells(openCircuitVolts);
    cautions.advisory();
  }

  void rated(CellParameters cell) {
    SolarArray array = new SolarArray(cell, 1, 1);
    array.solvePeak();
    out.line("One cell as rated, at 1000 W/m2 and 25 C");
    out.rule();
    double[] c = FitText.characteristics(array);
    out.line(
        "Isc %.4g A, Voc %.4g V, Imp %.4g A, Vmp %.4g V, Pmp %.4g W, fill factor %.4f",
        c[0], c[1], c[2], c[3], c[4], c[5]);
    out.line("cell.photocurrent_a = %.7g", cell.photocurrentAmps());
    out.line("cell.saturation_a = %.7g", cell.saturationAmps());
    out.line("cell.ideality = %.7g", cell.ideality());
    out.line("cell.series_ohm = %.7g", cell.seriesOhms());
    out.line("cell.shunt_ohm = %.7g", Math.min(cell.shuntOhms(), 1e9));
    array.set(1, 50);
    array.solvePeak();
    out.line("At 50 C: Voc %.4g V, Pmp %.4g W", array.openCircuitVolts(), array.peakWatts());
  }

  void compared(PeerComparison peers, Function<FitResult, String> assumed) {
    out.blank();
    out.line(
        "%-24s %8s %8s %8s %12s %12s",
        "bench over rated, %", "Isc", "Voc", "Pmp", "added mohm", "soldering %");
    for (FitResult fit : peers.fits()) {
      out.line(
          "%-24s %8.1f %8.1f %8.1f %12.2f %12.1f%s",
          fit.sweep().name(),
          100 * peers.currentRatio(fit),
          100 * peers.voltageRatio(fit),
          100 * peers.powerRatio(fit),
          1000 * peers.addedOhms(fit),
          100 * peers.solderingShare(fit),
          peers.below(fit) ? "  BELOW ITS PEERS" : "");
      String taken = assumed.apply(fit);
      if (!taken.isEmpty()) {
        out.line("  Caution: %s.", taken);
      }
    }
    out.blank();
    out.text("Per cell at 1000 W/m2 and 25 C. Isc below 100: cover, dirt or cracks. Added");
    out.text("resistance: soldering, ribbons and leads, with the share of the MPP power that");
    out.text("they dissipate.");
  }
}
