package org.solarmargin.cli.fit;

import java.io.PrintWriter;
import java.util.Locale;
import org.solarmargin.cli.fit.rotor.Hover;
import org.solarmargin.cli.fit.rotor.RotorFit;
import org.solarmargin.cli.fit.rotor.Stand;
import org.solarmargin.cli.fit.rotor.ThrustLaw;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.core.alert.AlertLevel;

/** A fitted thrust stand as text of 80 columns. */
final class RotorText {

  private final Lines out;

  RotorText(PrintWriter out) {
    this.out = new Lines(out);
  }

  void print(
      RotorFit fit,
      ThrustLaw law,
      Hover here,
      Hover away,
      double altitude,
      double density,
      double densityAway) {
    Stand stand = fit.stand();
    out.line("%s: %d rows, air %.4f kg/m3", stand.name(), stand.size(), density);
    out.rule();
    out.line("Motor current C E^m, back-EMF E = throttle x bus voltage - R x current");
    out.line(
        "  propulsion constant C  %.5g A/V^m  (ln C +- %.2g)",
        fit.propulsion(), fit.propulsionLogSd());
    out.line(
        "  exponent m             %.4f%s",
        fit.exponent(),
        fit.exponentSd() == 0
            ? "  fixed by the propeller laws: not determined by the rows"
            : String.format(Locale.ROOT, " +- %.2g  (2 by the propeller laws)", fit.exponentSd()));
    out.line(
        "  winding resistance R   %.4g ohm%s",
        fit.windingOhms(), fit.ohmsKnown() ? "" : "  not determined by these rows");
    out.line(
        "  housekeeping power     %.3g W +- %.2g%s",
        fit.housekeepingWatts(),
        fit.housekeepingSd(),
        fit.housekeepingSd() > Math.max(fit.housekeepingWatts(), 1)
            ? "  not determined: add a row at rest"
            : "");
    out.line("  rms error              %.4g A in the bus current", fit.rms());
    out.blank();
    if (law == null) {
      out.line("The readings have no thrust_g, so no hover point can be found.");
    } else {
      efficiency(fit, law);
      hover("In the stand's air", here, law);
      if (away != null) {
        out.blank();
        hover(
            String.format(Locale.ROOT, "At %.0f m, standard air %.4f kg/m3", altitude, densityAway),
            away,
            law);
      }
    }
    out.blank();
    BenchCautions cautions = new BenchCautions(out);
    cautions.propellers();
    cautions.advisory();
  }

  private void efficiency(RotorFit fit, ThrustLaw law) {
    Stand stand = fit.stand();
    out.line("%10s %10s %10s %10s", "throttle", "thrust g", "motor W", "g/W");
    int left = 0;
    for (int i = 0; i < stand.size(); i++) {
      double watts = stand.watts(i) - fit.housekeepingWatts();
      if (stand.grams(i) > 0 && watts > 0) {
        out.line(
            "%10.3f %10.1f %10.2f %10.2f",
            stand.throttle(i), stand.grams(i), watts, stand.grams(i) / watts);
      } else {
        left++;
      }
    }
    if (left > 0) {
      out.line(
          "Left out of this table: %d of %d rows, without positive thrust or motor power.",
          left, stand.size());
    }
    out.line(
        "Thrust is proportional to power to the %.3f (2/3 by momentum theory)", law.exponent());
    out.blank();
  }

  private void hover(String where, Hover hover, ThrustLaw law) {
    out.line(
        "%s, full sun: hover takes %.1f W of %.1f W,",
        where, hover.watts(), hover.availableWatts());
    out.line("at %.2f V and throttle %.3f.", hover.volts(), hover.throttle());
    if (!hover.flies()) {
      out.line(
          "DOES NOT HOVER: the array cannot deliver that power, or the motors cannot draw it.");
    }
    if (hover.flies() && hover.alertLevel() != AlertLevel.NONE) {
      out.line(
          "Caution: that leaves a margin of %.1f %%, about 6 less on the lower bound. By the",
          hover.marginPercent());
      out.line(
          "profile's rules this hover is in %s even in the steadiest light.", hover.alertLevel());
    }
    if (!hover.measured()) {
      out.line(
          "Caution: %.0f g is outside the measured range of %.0f to %.0f g.",
          hover.gramsPerStand(), law.leastGrams(), law.mostGrams());
    }
  }
}
