package org.solarmargin.cli.fit.logger;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;

/** Demo flights as written by a logger with filter, delay and held readings. */
final class LoggedCopy {

  private LoggedCopy() {}

  /** Exact response of a first-order filter to values that are linear between rows. */
  static double[] filtered(double[] values, double[] seconds, double tau) {
    double[] out = values.clone();
    for (int i = 1; i < values.length && tau > 0; i++) {
      double step = seconds[i] - seconds[i - 1];
      double lag = tau * (values[i] - values[i - 1]) / step;
      double keep = Math.exp(-step / tau);
      out[i] = values[i] - lag + (out[i - 1] - values[i - 1] + lag) * keep;
    }
    return out;
  }

  static double[] column(List<Sample> samples, java.util.function.ToDoubleFunction<Sample> of) {
    return samples.stream().mapToDouble(of).toArray();
  }

  /** Writes a copy: both channels filtered, the current some rows late, rows held in groups. */
  static Path write(Path to, Path log, double tau, int rowsLate, int hold) throws IOException {
    List<Sample> samples = FlightLog.samples(log);
    double[] seconds = column(samples, Sample::seconds);
    double[] volts = filtered(column(samples, Sample::volts), seconds, tau);
    double[] amps = filtered(column(samples, Sample::amps), seconds, tau);
    return FlightLog.write(
        to,
        log,
        (i, sample) -> {
          int read = i - i % hold;
          return String.format(
              Locale.ROOT,
              "%.3f,%.2f,%.2f,%.4f",
              sample.seconds(),
              volts[read],
              amps[Math.max(read - rowsLate, 0)],
              sample.throttle());
        });
  }
}
