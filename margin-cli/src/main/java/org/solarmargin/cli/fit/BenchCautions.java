package org.solarmargin.cli.fit;

import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.TouchVoltage;

/** Hazards of work with cells and propellers, printed below every bench result. */
final class BenchCautions {

  private final Lines out;

  BenchCautions(Lines out) {
    this.out = out;
  }

  /**
   * Cells in light.
   *
   * @param openCircuitVolts highest voltage between bare terminals, V
   */
  void cells(double openCircuitVolts) {
    if (openCircuitVolts >= TouchVoltage.LICENSED) {
      out.line(
          "DANGER: %.0f V DC kills. From %.0f V upwards, leave all work on live parts to",
          openCircuitVolts, TouchVoltage.LICENSED);
      out.text("licensed electricians.");
    } else if (openCircuitVolts >= TouchVoltage.SHOCK) {
      out.line(
          "Caution: electric shock. %.0f V DC can kill: in light, touch no bare conductor.",
          openCircuitVolts);
    }
    out.text("An array cannot be switched off in light: cover it before you touch a");
    out.text("terminal. A DC arc does not extinguish itself. Cells break into sharp shards:");
    out.text("protect your eyes. Do not lay anything hot or any bare conductor on metal or");
    out.text("on cells.");
  }

  /** Spinning propellers. */
  void propellers() {
    out.text("Spinning propellers cut: guard them, stay out of their plane, and protect your");
    out.text("eyes. Make the first hover on a tether, below 1 m, with nobody within 10 m or");
    out.text("within the tether's reach, and where local aviation rules allow it.");
  }

  /** The last line. */
  void advisory() {
    out.text("Bench figures are advisory and not certified.");
  }
}
