package org.solarmargin.cli.fit;

import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.TouchVoltage;

/** What can hurt at a bench of cells, printed under every bench figure. */
final class BenchCautions {

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
    if (openCircuitVolts >= TouchVoltage.LICENSED) {
      out.line(
          "DANGER: %.0f V DC kills. From %.0f V on leave all work on live parts to licensed",
          openCircuitVolts, TouchVoltage.LICENSED);
      out.text("electricians.");
    } else if (openCircuitVolts >= TouchVoltage.SHOCK) {
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
