package org.solarmargin.cli.fit.sweep;

import java.util.Locale;
import org.solarmargin.cli.file.InputFault;

/**
 * Whether the bench result for one cell is compatible with the rated cell. A wrong count of cells
 * in series or of strings in parallel shows as a voltage or current that is far off, or as a series
 * resistance far below the rated one.
 */
public final class CountCheck {

  /**
   * Largest relative deviation of Voc from the data sheet. This limit and those below are
   * engineering judgement.
   */
  private static final double VOLTS_OFF = 0.15;

  private static final double AMPS_OVER = 1.3;
  private static final double SIGMAS = 3;

  /** Share of the rated series resistance by which data sheets are uncertain. */
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
          "Voc per cell is %.0f %% of the rated value",
          100 * volts,
          "--series",
          sweep.series());
    }
    double amps = peers.currentRatio(fit);
    if (amps > AMPS_OVER) {
      throw fault(
          sweep,
          "Isc per cell is %.0f %% of the rated value",
          100 * amps,
          "--parallel",
          sweep.parallel());
    }
    double added = peers.addedOhms(fit);
    double scatter = SIGMAS * Math.max(fit.sd(DiodeParameters.RS), 0);
    if (added < -Math.max(scatter, OHMS_SHARE * peers.ratedOhms())) {
      throw fault(
          sweep,
          "series resistance per cell is %.2f mohm below the rated value, which soldering cannot"
              + " cause",
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
