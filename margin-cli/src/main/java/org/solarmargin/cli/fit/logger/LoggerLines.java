package org.solarmargin.cli.fit.logger;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;

/** Profile lines of a logger, key and value; values that the logs do not determine are left out. */
final class LoggerLines {

  private static final double LEAST_SECONDS = 0.005;

  private LoggerLines() {}

  static Map<String, String> of(LoggerSummary logger) {
    Map<String, String> lines = new LinkedHashMap<>();
    FittedValue delay = logger.ampsDelay();
    FittedValue voltsLate = new FittedValue(Math.max(-delay.value(), 0), delay.sd());
    FittedValue ampsLate = new FittedValue(Math.max(delay.value(), 0), delay.sd());
    seconds(lines, "sensor.voltage_filter_s", logger.voltsFilter());
    seconds(lines, "sensor.voltage_delay_s", voltsLate);
    facts(lines, "sensor.voltage_", "v", logger, FlightRows::voltsStatistics);
    seconds(lines, "sensor.current_filter_s", logger.ampsFilter());
    seconds(lines, "sensor.current_delay_s", ampsLate);
    facts(lines, "sensor.current_", "a", logger, FlightRows::ampsStatistics);
    seconds(lines, "rotor.command_delay_s", logger.commandDelay());
    seconds(lines, "rotor.command_lag_s", logger.commandLag());
    return lines;
  }

  private static void seconds(Map<String, String> lines, String key, FittedValue fitted) {
    if (fitted.known()) {
      double value = fitted.value() < LEAST_SECONDS ? 0 : fitted.value();
      lines.put(key, String.format(Locale.ROOT, "%.3f", value));
    }
  }

  private static void facts(
      Map<String, String> lines,
      String key,
      String unit,
      LoggerSummary logger,
      Function<FlightRows, ChannelStatistics> channel) {
    double period = logger.period(channel);
    if (period > 0) {
      lines.put(key + "period_s", String.format(Locale.ROOT, "%.3f", period));
    }
    double step = logger.mean(fit -> channel.apply(fit.rows()).roundingStep());
    if (step >= 0) {
      lines.put(key + "step_" + unit, String.format(Locale.ROOT, "%.4g", step));
    }
  }
}
