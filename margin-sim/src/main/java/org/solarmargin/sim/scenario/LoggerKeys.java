package org.solarmargin.sim.scenario;

import static org.solarmargin.core.timing.ChannelTiming.COARSEST_STEP;
import static org.solarmargin.core.timing.ChannelTiming.LONGEST_DELAY_SECONDS;
import static org.solarmargin.core.timing.ChannelTiming.LONGEST_FILTER_SECONDS;
import static org.solarmargin.core.timing.ChannelTiming.LONGEST_PERIOD_SECONDS;
import static org.solarmargin.core.timing.TimeModel.LONGEST_COMMAND_LAG_SECONDS;

import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.LogSpec;
import org.solarmargin.sim.sensor.ChannelErrors;
import org.solarmargin.sim.sensor.ReadingFaults;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.ReadingTiming;

/**
 * The scenario keys of sensors, motor controllers and the format of the log. Times have the ranges
 * of the estimator's time model.
 */
final class LoggerKeys {

  private static final double NEVER = Double.POSITIVE_INFINITY;

  private final StrictProperties in;

  LoggerKeys(StrictProperties in) {
    this.in = in;
  }

  SensorErrors sensors(EstimatorSettings.Sensors usual) {
    double voltageNoise = in.number("sensor.voltage_noise_v", 0, 10, usual.voltageNoiseVolts());
    double currentNoise = in.number("sensor.current_noise_a", 0, 10, usual.currentNoiseAmps());
    double lag = in.number("sensor.lag_s", 0, 1, 0);
    return new SensorErrors(
        new ChannelErrors(
            in.number("sensor.voltage_gain", 0.1, 10, 1),
            0,
            voltageNoise,
            timing("sensor.voltage_", lag),
            in.number("sensor.voltage_step_v", 0, COARSEST_STEP, 0.008)),
        new ChannelErrors(
            in.number("sensor.current_gain", 0.1, 10, 1),
            in.number("sensor.current_offset_a", -10, 10, 0),
            currentNoise,
            timing("sensor.current_", lag),
            in.number("sensor.current_step_a", 0, COARSEST_STEP, 0.01)),
        new ReadingFaults(
            in.number("sensor.jitter_s", 0, 1, 0),
            in.number("sensor.dropout_share", 0, 0.9, 0),
            in.number("sensor.spike_share", 0, 0.5, 0),
            in.number("sensor.freeze_start_s", 0, ScenarioReader.LONGEST, NEVER),
            in.number("sensor.freeze_s", 0, ScenarioReader.LONGEST, 5)));
  }

  /** One channel's timing; {@code sensor.lag_s} is the filter of both if they state none. */
  private ReadingTiming timing(String prefix, double lag) {
    return new ReadingTiming(
        Choices.oneOf(in, prefix + "filter_shape", FilterShape.FIRST_ORDER),
        in.number(prefix + "filter_s", 0, LONGEST_FILTER_SECONDS, lag),
        in.number(prefix + "delay_s", 0, LONGEST_DELAY_SECONDS, 0),
        in.number(prefix + "period_s", 0, LONGEST_PERIOD_SECONDS, 0));
  }

  CommandTiming command() {
    return new CommandTiming(
        in.number("craft.command_lag_s", 0, LONGEST_COMMAND_LAG_SECONDS, 0),
        in.number("craft.command_delay_s", 0, LONGEST_DELAY_SECONDS, 0));
  }

  LogSpec log() {
    return new LogSpec(
        in.number("log.sample_hz", 2, 1000, 50),
        in.number("log.throttle_step", 0, 0.1, 0),
        in.number("log.throttle_power", 0.3, 3, 1));
  }
}
