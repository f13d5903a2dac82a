package org.solarmargin.cli.fit.sweep;

import java.util.Locale;
import org.solarmargin.cli.file.InputFault;

/**
 * Whether a bench figure of one cell can be that of the promised cell: a wrong count of cells in
 * series or of strings side by side shows as a voltage or a current far off, or as a series
 * resistance that soldering cannot take away.
 */
public final class CountCheck {

  /** No cell of one kind stands so far from its sheet. */
  private static final double VOLTS_OFF = 0.15;

  private static final double AMPS_OVER = 1.3;
  private static final double SIGMAS = 3;

  /** Of the promised series resistance: what sheets leave open by themselves. */
  private static final double OHMS_SHARE = 0.5;

  private final PeerComparison peers;

  public CountCheck(PeerComparison peers) {
    this.peers = peers;
  }

  /** Refuses a fit whose counts must be wrong. */
  public void check(FitResult fit) {
    Sweep sweep = fit.sweep();
    double volts = peers.voltageRatio(fit);
    if (Math.abs(volts - 1) > VOLTS_OFF) {
      throw fault(
          sweep,
          "Voc of a cell comes to %.0f %% of the promised",
          100 * volts,
          "--series",
          sweep.series());
    }
    double amps = peers.currentRatio(fit);
    if (amps > AMPS_OVER) {
      throw fault(
          sweep,
          "Isc of a cell comes to %.0f %% of the promised",
          100 * amps,
          "--parallel",
          sweep.parallel());
    }
    double added = peers.addedOhms(fit);
    double scatter = SIGMAS * Math.max(fit.sd(DiodeParameters.RS), 0);
    if (added < -Math.max(scatter, OHMS_SHARE * peers.promisedOhms())) {
      throw fault(
          sweep,
          "series resistance of a cell comes to %.2f mohm under the promised, which no soldering"
              + " does",
          -1000 * added,
          "--series",
          sweep.series());
    }
  }

  private static InputFault fault(Sweep sweep, String what, double value, String option, int now) {
    return new InputFault(
        String.format(
            Locale.ROOT,
            "%s: " + what + ": check %s (now %d), --irradiance and --cell-c",
            sweep.name(),
            value,
            option,
            now));
  }
}
