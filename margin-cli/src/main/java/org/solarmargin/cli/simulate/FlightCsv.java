package org.solarmargin.cli.simulate;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import org.solarmargin.cli.format.Decimals;
import org.solarmargin.sim.flight.FlightSample;

/** Writes a simulated flight as a log and its truth, one line in each for each sample. */
final class FlightCsv {

  private final Writer log;
  private final Writer truth;
  private final StringBuilder line = new StringBuilder(128);

  /** Writes the headers; the log begins with the comment, which may be empty. */
  FlightCsv(Writer log, String comment, Writer truth) throws IOException {
    this.log = log;
    this.truth = truth;
    log.write(comment);
    log.write("time_s,bus_v,bus_a,throttle,height_m\n");
    truth.write("time_s,available_w,demand_w,mpp_v,suns,cell_c,height_m,ceiling\n");
  }

  void write(FlightSample s) {
    try {
      start(s.seconds);
      field(s.busVolts, 3);
      field(s.busAmps, 3);
      field(s.throttle, 4);
      field(s.heightMetres, 2);
      end(log);
      start(s.seconds);
      field(s.availableWatts, 3);
      field(s.demandWatts, 3);
      field(s.peakVolts, 3);
      field(s.suns, 4);
      field(s.cellCelsius, 2);
      field(s.heightMetres, 2);
      field(s.ceiling, 4);
      end(truth);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private void start(double seconds) {
    line.setLength(0);
    Decimals.append(line, seconds, 3);
  }

  private void field(double value, int decimals) {
    line.append(',');
    Decimals.append(line, value, decimals);
  }

  private void end(Writer to) throws IOException {
    to.append(line.append('\n'));
  }
}
