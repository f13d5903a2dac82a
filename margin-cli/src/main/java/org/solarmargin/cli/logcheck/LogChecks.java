package org.solarmargin.cli.logcheck;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.solarmargin.core.estimator.EstimatorSettings;

/** All checks of a log, in constant memory. */
public final class LogChecks {

  private static final double BLOCK_SECONDS = 1;
  private static final double FLIGHT_SHARE = 0.7;
  private static final double FULL_THROTTLE = 0.97;

  private final SampleSpacing spacing = new SampleSpacing();
  private final List<LogCheck> invalidating;
  private final LogCheck hover;
  private final double leastThrottle;

  /** The latest value of each column, since they may arrive in different rows. */
  private double lastVolts = Double.NaN;

  private double lastAmps = Double.NaN;
  private double lastThrottle = Double.NaN;

  private FlightBlock before;
  private double start = Double.NaN;
  private double volts;
  private double amps;
  private double throttle;
  private int samples;

  /**
   * Checks before any line.
   *
   * @param settings settings of the craft
   */
  public LogChecks(EstimatorSettings settings) {
    // interchanged columns also look like the other faults, so only the first finding is reported
    invalidating =
        List.of(
            new ExchangedColumns(settings.rotor()),
            new DeadCurrentSensor(settings.rotor()),
            new StiffBus(settings));
    hover = new HoverPower(settings.rotor());
    leastThrottle = FLIGHT_SHARE * settings.rotor().hoverThrottle();
  }

  /**
   * Adds a line whose time is in order, accepted by the gate or not.
   *
   * @param seconds its time, s
   * @param busVolts V, any value
   * @param busAmps A, any value
   * @param command throttle, any value
   */
  public void take(double seconds, double busVolts, double busAmps, double command) {
    spacing.take(seconds);
    if (seconds - start >= BLOCK_SECONDS) {
      endBlock();
    }
    boolean reads = !Double.isNaN(busVolts) || !Double.isNaN(busAmps);
    lastVolts = Double.isNaN(busVolts) ? lastVolts : busVolts;
    lastAmps = Double.isNaN(busAmps) ? lastAmps : busAmps;
    lastThrottle = Double.isNaN(command) ? lastThrottle : command;
    if (!reads
        || !Double.isFinite(lastVolts + lastAmps)
        || !(lastThrottle >= 0 && lastThrottle <= 1)) {
      return;
    }
    if (samples == 0) {
      start = seconds;
    }
    volts += lastVolts;
    amps += lastAmps;
    throttle += lastThrottle;
    samples++;
  }

  private void endBlock() {
    if (samples > 0) {
      FlightBlock block =
          new FlightBlock(start, volts / samples, amps / samples, throttle / samples, samples);
      // full throttle is left out, because past the knee the current depends on the light alone
      if (block.throttle() >= leastThrottle && block.throttle() < FULL_THROTTLE) {
        FlightBlock last = block.follows(before) ? before : null;
        invalidating.forEach(check -> check.take(block, last));
        hover.take(block, last);
        before = block;
      }
    }
    start = Double.NaN;
    volts = 0;
    amps = 0;
    throttle = 0;
    samples = 0;
  }

  /**
   * The findings so far; an incomplete last second is left out.
   *
   * @return at most one that invalidates the estimates, which then comes first
   */
  public List<Finding> findings() {
    List<Finding> found = new ArrayList<>();
    Optional<Finding> worst =
        invalidating.stream().map(LogCheck::finding).flatMap(Optional::stream).findFirst();
    worst.or(hover::finding).ifPresent(found::add);
    spacing.finding().ifPresent(found::add);
    return found;
  }
}
