package org.solarmargin.cli.fit;

import org.solarmargin.cli.format.Lines;

/**
 * What can hurt at a bench of cells, printed under every bench figure.
 *
 * <p>Voltages by IEC 60364-4-41: ripple-free direct current over 60 V is no longer harmless to
 * touch even on dry skin, and 120 V is the limit of extra-low voltage. From memory.
 */
final class BenchCautions {

  private static final double SHOCK_VOLTS = 60;
  private static final double LICENSED_VOLTS = 120;

  private final Lines out;

  BenchCautions(Lines out) {
    this.out = out;
  }

  /**
   * Cells in light.
   *
   * @param openCircuitVolts the most that stands between bare ends, V
   */
  void cells(double openCircuitVolts) {
    if (openCircuitVolts >= LICENSED_VOLTS) {
      out.line(
          "DANGER: %.0f V DC kills. From %.0f V on leave all work on live parts to licensed",
          openCircuitVolts, LICENSED_VOLTS);
      out.text("electricians.");
    } else if (openCircuitVolts >= SHOCK_VOLTS) {
      out.line(
          "Caution: electric shock. %.0f V DC can kill: touch nothing bare in light.",
          openCircuitVolts);
    }
    out.text("An array cannot be switched off in light: cover it before you touch its ends. A DC");
    out.text("arc does not go out by itself. Cells break into sharp shards: protect your eyes.");
    out.text("Nothing hot or bare may lie on metal or on cells.");
  }

  /** Propellers that turn. */
  void propellers() {
    out.text("Spinning propellers cut: guard them, stand aside of their plane, protect your eyes.");
    out.text(
        "A first hover is tethered, under 1 m, with nobody within the tether's reach and 10 m,");
    out.text("where local aviation rules allow it.");
  }

  /** The last line. */
  void advisory() {
    out.text("Bench figures, advisory and not certified.");
  }
}
