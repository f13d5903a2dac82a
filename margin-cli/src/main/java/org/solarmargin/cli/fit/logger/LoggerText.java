package org.solarmargin.cli.fit.logger;

import java.io.PrintWriter;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import org.solarmargin.cli.format.Lines;
import org.solarmargin.cli.format.Wrapped;

/** The logger's timing as text. */
final class LoggerText {

  private static final String UNDETERMINED = "cannot be determined from this log";
  private static final String UNDETERMINED_SEVERAL = "cannot be determined from these logs";
  private static final int WIDTH = 78;
  private static final double NONE = 0.005;

  private final Lines out;

  LoggerText(PrintWriter out) {
    this.out = new Lines(out);
  }

  void print(LoggerSummary logger, Map<String, String> lines) {
    double seconds = logger.fits().stream().mapToDouble(fit -> fit.rows().seconds()).sum();
    int logs = logger.fits().size();
    out.line(
        "Logger timing from %d %s with %.0f s in the air",
        logs, logs == 1 ? "log" : "logs", seconds);
    out.text("Values with standard errors. Advisory, not certified.");
    out.blank();
    out.line("Voltage");
    channel(logger, logger.voltsFilter(), "V", FlightRows::voltsStatistics);
    out.line("Current");
    channel(logger, logger.ampsFilter(), "A", FlightRows::ampsStatistics);
    out.line("Relative timing");
    row("current behind voltage", formatted(logger, logger.ampsDelay()));
    row("motors behind throttle", formatted(logger, logger.commandDelay()));
    row("lag of the controllers", formatted(logger, logger.commandLag()));
    out.blank();
    if (logger.determined()) {
      out.text("For the craft profile:");
      lines.forEach((key, value) -> out.line("  %s = %s", key, value));
    }
    if (!all(logger)) {
      out.blank();
      wrapped(advice());
    }
  }

  /** The flight to make for values that the logs do not determine. */
  static String advice() {
    return "To determine what is missing, fly on a tether, away from people, in steady sun: hover"
        + " for a minute and make six quick throttle steps of 5 to 10 % up and down, two"
        + " seconds apart. Log 20 rows a second or more; at 10 or fewer, filters and delays"
        + " cannot be determined.";
  }

  private static boolean all(LoggerSummary logger) {
    return logger.determined()
        && logger.voltsFilter().known()
        && logger.ampsFilter().known()
        && logger.ampsDelay().known()
        && logger.commandDelay().known();
  }

  private void channel(
      LoggerSummary logger,
      FittedValue filter,
      String unit,
      Function<FlightRows, ChannelStatistics> facts) {
    double fresh = logger.mean(fit -> facts.apply(fit.rows()).periodSeconds());
    if (Double.isNaN(fresh)) {
      row("fresh readings", unknown(logger));
      return;
    }
    double freshSd = logger.mean(fit -> facts.apply(fit.rows()).periodSd());
    row(
        "fresh readings",
        text("%.2f +- %.2f per second", 1 / fresh, freshSd / (fresh * fresh))
            + (logger.period(facts) > 0 ? ", repeated or absent in between" : ", every row"));
    row("filter", formatted(logger, filter));
    double step = logger.mean(fit -> facts.apply(fit.rows()).roundingStep());
    row("rounding step", step > 0 ? text("%.4g %s", step, unit) : "none found");
    row(
        "reading to reading",
        text(
            "%.3g +- %.1g %s, upper limit of the noise",
            logger.mean(fit -> facts.apply(fit.rows()).noise()),
            logger.mean(fit -> facts.apply(fit.rows()).noiseSd()),
            unit));
  }

  private static String formatted(LoggerSummary logger, FittedValue fitted) {
    if (!fitted.known()) {
      return unknown(logger);
    }
    String sd = text("%.3f s", Math.max(fitted.sd(), 0.001));
    return Math.abs(fitted.value()) < NONE
        ? "none, +- " + sd
        : text("%.3f +- ", fitted.value()) + sd;
  }

  private static String unknown(LoggerSummary logger) {
    return logger.fits().size() == 1 ? UNDETERMINED : UNDETERMINED_SEVERAL;
  }

  private void row(String name, String value) {
    out.line("  %-25s %s", name, value);
  }

  private void wrapped(String text) {
    Wrapped.lines(text, WIDTH).forEach(out::text);
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
