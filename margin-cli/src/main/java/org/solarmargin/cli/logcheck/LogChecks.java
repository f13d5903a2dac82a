package org.solarmargin.cli.logcheck;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.solarmargin.core.estimator.EstimatorSettings;

/** All checks of a log, in constant memory. */
public final class LogChecks {

  private static final double BLOCK_SECONDS = 1;
  private static final double FLIGHT_SHARE = 0.7;
  private static final double FULL_THROTTLE = 0.97;

  private final SampleSpacing spacing = new SampleSpacing();
  private final LogCheck exchanged;
  private final List<LogCheck> others;
  private final LogCheck hover;
  private final CoarseReadings coarse = new CoarseReadings();
  private final double leastThrottle;
  private final BlockSums all = new BlockSums();
  private final BlockSums plausible = new BlockSums();
  private FlightBlock before;
  private FlightBlock beforePlausible;
  private double start = Double.NaN;

  /**
   * Checks before any line.
   *
   * @param settings settings of the craft
   */
  public LogChecks(EstimatorSettings settings) {
    exchanged = new ExchangedColumns(settings.rotor());
    others = List.of(new DeadCurrentSensor(settings.rotor()), new StiffBus(settings));
    hover = new HoverPower(settings.rotor());
    leastThrottle = FLIGHT_SHARE * settings.rotor().hoverThrottle();
  }

  /**
   * Adds a line whose time is in order. Only the check for interchanged columns sees readings that
   * the array cannot give: a second of such glitches would make any other mean wrong.
   *
   * @param seconds its time, s
   * @param busVolts V, any value
   * @param busAmps A, any value
   * @param command throttle, any value
   * @param possible whether the array can give the readings
   */
  public void take(
      double seconds, double busVolts, double busAmps, double command, boolean possible) {
    spacing.take(seconds);
    if (seconds - start >= BLOCK_SECONDS) {
      endBlock();
    }
    boolean first = all.samples() == 0;
    all.take(busVolts, busAmps, command);
    if (possible) {
      plausible.take(busVolts, busAmps, command);
      if (inFlight(command)) {
        coarse.take(busVolts, busAmps);
      }
    }
    if (first && all.samples() > 0) {
      start = seconds;
    }
  }

  private void endBlock() {
    FlightBlock block = ended(all);
    if (block != null) {
      exchanged.take(block, block.follows(before) ? before : null);
      before = block;
    }
    FlightBlock sound = ended(plausible);
    if (sound != null) {
      FlightBlock last = sound.follows(beforePlausible) ? beforePlausible : null;
      others.forEach(check -> check.take(sound, last));
      hover.take(sound, last);
      beforePlausible = sound;
    }
    start = Double.NaN;
  }

  /** The block of these samples; null if there are none, or none in flight below full throttle. */
  private FlightBlock ended(BlockSums sums) {
    FlightBlock block = sums.end(start);
    return block != null && inFlight(block.throttle()) ? block : null;
  }

  /**
   * Whether this is the throttle of flight. Full throttle is left out, because past the knee the
   * current depends on the light alone.
   */
  private boolean inFlight(double throttle) {
    return throttle >= leastThrottle && throttle < FULL_THROTTLE;
  }

  /**
   * The findings so far; an incomplete last second is left out.
   *
   * @return at most one that invalidates the estimates, which then comes first
   */
  public List<Finding> findings() {
    List<Finding> found = new ArrayList<>();
    // interchanged columns also look like the other faults, so only the first finding is reported
    Optional<Finding> worst =
        Stream.concat(Stream.of(exchanged), others.stream())
            .map(LogCheck::finding)
            .flatMap(Optional::stream)
            .findFirst();
    worst.or(coarse::finding).or(hover::finding).ifPresent(found::add);
    spacing.finding().ifPresent(found::add);
    return found;
  }
}
