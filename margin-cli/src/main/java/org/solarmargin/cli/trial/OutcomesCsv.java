package org.solarmargin.cli.trial;

import java.io.IOException;
import java.io.Writer;
import java.util.List;
import org.solarmargin.cli.format.Decimals;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.sim.trial.Outcome;

/** One line for each flight of a trial. */
final class OutcomesCsv {

  private OutcomesCsv() {}

  static void write(Writer to, List<String> files, List<Outcome> outcomes, Partial partial)
      throws IOException {
    String header =
        "scenario,flight,limiter,seconds,loss_s,warned_s,nuisances,warnings,samples,rms_pct,"
            + "bias_pct,over5_pct,cover_pct,gap_pct,height_lost_m\n";
    if (partial.stopped()) {
      to.write("# " + partial.line() + "\n");
    }
    to.write(header);
    for (Outcome o : outcomes) {
      StringBuilder line = new StringBuilder(160);
      String file = files.get(o.scenario());
      line.append('"').append(file.replace("\"", "\"\"")).append('"');
      line.append(',').append(o.flight()).append(',').append(o.limiter() ? "on" : "off");
      double n = Math.max(o.samples(), 1);
      field(line, o.seconds(), 2);
      field(line, o.lossSeconds(), 2);
      field(line, o.warnedSeconds(), 2);
      line.append(',').append(o.nuisances()).append(',').append(o.warnings());
      line.append(',').append(o.samples());
      field(line, 100 * Math.sqrt(o.squaredError() / n), 3);
      field(line, 100 * o.errorSum() / n, 3);
      field(line, 100 * o.optimistic() / n, 3);
      field(line, 100 * o.covered() / n, 3);
      field(line, 100 * o.meanGap(), 3);
      field(line, o.heightLost(), 2);
      to.append(line.append('\n'));
    }
  }

  private static void field(StringBuilder line, double value, int decimals) {
    line.append(',');
    Decimals.append(line, value, decimals);
  }
}
