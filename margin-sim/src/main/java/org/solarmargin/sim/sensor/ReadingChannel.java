package org.solarmargin.sim.sensor;

import java.util.Random;
import org.solarmargin.sim.timing.DelayLine;
import org.solarmargin.sim.timing.PeriodClock;
import org.solarmargin.sim.timing.ReadingTiming;
import org.solarmargin.sim.timing.Response;

/**
 * One sensor: it processes the true value of every step of the flight and is read when the log is
 * written.
 *
 * <p>An immediate reading has its own noise. A reading with a filter, delay or hold has its noise
 * ahead of them, like a power module that filters after conversion: independent values at a fixed
 * interval, so that the noise of a reading depends on the filter and not on the simulator's step.
 */
final class ReadingChannel {

  private final ChannelErrors errors;
  private final boolean immediate;
  private final Random random;
  private final PeriodClock conversions;
  private final PeriodClock fresh;
  private final Response filter;
  private final DelayLine delay;
  private final boolean smooth;

  private double noise;
  private double latest;

  /**
   * Creates a sensor.
   *
   * @param errors its errors
   * @param step step of the flight, s
   * @param noiseSeconds interval of independent noise ahead of a filter, delay or hold, s
   * @param random source of that noise
   */
  ReadingChannel(ChannelErrors errors, double step, double noiseSeconds, Random random) {
    ReadingTiming timing = errors.timing();
    this.errors = errors;
    this.random = random;
    immediate = timing.immediate();
    conversions = new PeriodClock(noiseSeconds, step);
    fresh = new PeriodClock(timing.periodSeconds(), step);
    filter = Response.of(timing.shape(), timing.filterSeconds(), step);
    delay = new DelayLine(timing.delaySeconds(), step);
    smooth = timing.filterSeconds() > 0;
  }

  /** Processes the true value of one step. */
  void follow(double truth) {
    double seen = truth * errors.gain() + errors.offset();
    if (immediate) {
      latest = seen;
      return;
    }
    if (conversions.tick()) {
      noise = errors.noise() * random.nextGaussian();
    }
    delay.push(filter.follow(seen + noise));
    if (fresh.tick()) {
      latest = smooth ? delay.interpolated() : delay.held();
    }
  }

  /**
   * Takes a reading; {@code deviate} is a standard normal deviate, the noise if it is immediate.
   */
  double read(double deviate) {
    double reading = immediate ? latest + errors.noise() * deviate : latest;
    double step = errors.roundingStep();
    return step <= 0 ? reading : step * Math.rint(reading / step);
  }
}
