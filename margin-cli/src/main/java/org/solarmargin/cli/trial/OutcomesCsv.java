package org.solarmargin.cli.trial;

import java.io.IOException;
import java.io.Writer;
import java.util.List;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.format.Decimals;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.sim.trial.Outcome;

/** Writes one line for each flight of a trial. */
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
      line.append(CsvText.quoted(file));
      line.append(',').append(o.flight()).append(',').append(o.limiter() ? "on" : "off");
      double n = Math.max(o.accuracy().samples(), 1);
      field(line, o.seconds(), 2);
      field(line, o.alerts().lossSeconds(), 2);
      field(line, o.alerts().warnedSeconds(), 2);
      line.append(',').append(o.alerts().nuisances()).append(',').append(o.alerts().warnings());
      line.append(',').append(o.accuracy().samples());
      field(line, 100 * Math.sqrt(o.accuracy().squaredError() / n), 3);
      field(line, 100 * o.accuracy().errorSum() / n, 3);
      field(line, 100 * o.accuracy().optimistic() / n, 3);
      field(line, 100 * o.accuracy().covered() / n, 3);
      field(line, 100 * o.accuracy().meanGap(), 3);
      field(line, o.heightLost(), 2);
      to.append(line.append('\n'));
    }
  }

  private static void field(StringBuilder line, double value, int decimals) {
    line.append(',');
    Decimals.append(line, value, decimals);
  }
}
