package org.solarmargin.sim.scenario;

import java.util.Random;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.flight.LogSpec;
import org.solarmargin.sim.sensor.ChannelErrors;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.ReadingTiming;

/**
 * Draws the time model of a logger for one flight, in place of the scenario's. Values are uniformly
 * distributed from 0 to the limits below. The filter of the current is that of the voltage plus a
 * difference, clamped to the same limits. The logarithm of the rate of fresh readings is uniformly
 * distributed between its limits; voltage and current are sampled together, so they share it. The
 * limits are those of common power modules and motor controllers (common practice, no source).
 */
public final class LoggerDraw {

  /** Longest filter time constant of either channel, s. */
  public static final double FILTER_SECONDS = 0.3;

  /** Largest difference of the two channels' filter time constants, s. */
  public static final double FILTER_DIFFERENCE_SECONDS = 0.1;

  /** Longest delay of either channel, s; the channels are drawn independently. */
  public static final double DELAY_SECONDS = 0.08;

  /** Lowest rate of fresh readings, Hz. */
  public static final int SLOWEST_HERTZ = 5;

  /** Highest rate of fresh readings, Hz. */
  public static final int FASTEST_HERTZ = 50;

  /** Coarsest rounding of the readings, V and A. */
  public static final double ROUNDING_STEP = 0.05;

  /** Coarsest rounding of the throttle. */
  public static final double THROTTLE_STEP = 0.01;

  /** Longest lag of the command, s. */
  public static final double COMMAND_LAG_SECONDS = 0.1;

  /** Longest delay of the command, s. */
  public static final double COMMAND_DELAY_SECONDS = 0.06;

  private final Random random;

  LoggerDraw(Random random) {
    this.random = random;
  }

  /** The same flight with another logger. */
  FlightSetup drawn(FlightSetup setup) {
    double voltsFilter = upTo(FILTER_SECONDS);
    double difference = FILTER_DIFFERENCE_SECONDS * (2 * random.nextDouble() - 1);
    double ampsFilter = Math.min(Math.max(voltsFilter + difference, 0), FILTER_SECONDS);
    double ratio = FASTEST_HERTZ / (double) SLOWEST_HERTZ;
    double period = StrictMath.pow(ratio, random.nextDouble()) / FASTEST_HERTZ;
    SensorErrors stated = setup.sensors();
    SensorErrors sensors =
        new SensorErrors(
            channel(stated.volts(), voltsFilter, period),
            channel(stated.amps(), ampsFilter, period),
            stated.faults());
    LogSpec log = setup.log();
    return new FlightSetup(
        setup.layout(),
        setup.stringLostSeconds(),
        setup.airframe(),
        new CommandTiming(upTo(COMMAND_LAG_SECONDS), upTo(COMMAND_DELAY_SECONDS)),
        setup.plan(),
        setup.sky(),
        setup.air(),
        sensors,
        new LogSpec(log.sampleHertz(), upTo(THROTTLE_STEP), log.throttlePower()));
  }

  private ChannelErrors channel(ChannelErrors stated, double filter, double period) {
    return new ChannelErrors(
        stated.gain(),
        stated.offset(),
        stated.noise(),
        new ReadingTiming(FilterShape.FIRST_ORDER, filter, upTo(DELAY_SECONDS), period),
        upTo(ROUNDING_STEP));
  }

  private double upTo(double limit) {
    return limit * random.nextDouble();
  }
}
