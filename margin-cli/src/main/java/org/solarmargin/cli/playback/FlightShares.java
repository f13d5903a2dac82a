package org.solarmargin.cli.playback;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.verdict.Verdict;

/**
 * How each second of a flight was used: estimates by status, refused samples by reason, gaps.
 *
 * <p>Flight is recognised from the log alone, so that a flight counts even if all its samples are
 * refused: throttle above that of {@link Rotor#airborneThrottle()}, or power above half the hover
 * power where the throttle column shows idle.
 */
public final class FlightShares {

  /**
   * Duration of a flight's beginning that need not have an actionable estimate, s: engineering
   * judgement.
   */
  public static final double WARM_UP_SECONDS = 5;

  private static final double FLIGHT_POWER = 0.5;
  private static final double GAP_SECONDS = 0.5;
  private static final double GAP_STEPS = 5;

  private final double flightThrottle;
  private final double flightWatts;
  private final double[] statusSeconds = new double[Status.values().length];
  private final double[] refusedSeconds = new double[Verdict.values().length];
  private double gapSeconds;
  private boolean flying;
  private boolean flew;
  private boolean estimated;
  private double first = Double.NaN;
  private double last = Double.NaN;
  private double usualStep;

  FlightShares(Rotor rotor) {
    flightThrottle = rotor.airborneThrottle();
    flightWatts = FLIGHT_POWER * rotor.hoverWatts();
  }

  /**
   * Adds a line whose time is in order.
   *
   * @param status status of the reading after it
   */
  void take(double seconds, double throttle, double watts, Verdict verdict, Status status) {
    double step = Double.isNaN(last) ? 0 : seconds - last;
    first = Double.isNaN(last) ? seconds : first;
    last = seconds;
    boolean before = flying;
    follow(throttle, watts);
    boolean gap = usualStep > 0 && step > GAP_SECONDS && step > GAP_STEPS * usualStep;
    if (gap) {
      gapSeconds += before ? step : 0;
    } else {
      usualStep += (step - usualStep) * (usualStep == 0 ? 1 : 1 / 16.0);
      count(flying ? step : 0, verdict, status);
    }
    estimated |= Verdicts.usable(verdict) && status != Status.NO_ESTIMATE;
  }

  /** Adds a line whose time runs backward or is far ahead; it counts as one usual step. */
  void takeUntimed(double throttle, double watts, Verdict verdict) {
    follow(throttle, watts);
    count(flying ? usualStep : 0, verdict, Status.SENSOR_FAULT);
  }

  private void follow(double throttle, double watts) {
    if (watts >= flightWatts) {
      flying = true;
    } else if (!Double.isNaN(throttle)) {
      flying = throttle >= flightThrottle;
    }
    flew |= flying;
  }

  private void count(double seconds, Verdict verdict, Status status) {
    if (Verdicts.usable(verdict)) {
      statusSeconds[status.ordinal()] += seconds;
    } else {
      refusedSeconds[verdict.ordinal()] += seconds;
    }
  }

  /**
   * Time of the first line, s in the log.
   *
   * @return NaN before it
   */
  public double firstSeconds() {
    return first;
  }

  /**
   * From the first line to the last, s.
   *
   * @return 0 or more
   */
  public double logSeconds() {
    return Double.isNaN(first) ? 0 : last - first;
  }

  /**
   * Time in flight, s.
   *
   * @return 0 or more
   */
  public double flightSeconds() {
    double sum = gapSeconds;
    for (double seconds : statusSeconds) {
      sum += seconds;
    }
    for (double seconds : refusedSeconds) {
      sum += seconds;
    }
    return sum;
  }

  /**
   * Whether any line was in flight.
   *
   * @return true even for a single line, which takes no time
   */
  public boolean flew() {
    return flew;
  }

  /**
   * Time in flight with an actionable estimate, s: sharp, coarse or past the knee.
   *
   * @return 0 or more
   */
  public double actionableSeconds() {
    double sum = 0;
    for (Status status : Status.values()) {
      sum += status.bearsMargin() ? seconds(status) : 0;
    }
    return sum;
  }

  /**
   * Time in flight under a status, s.
   *
   * @param status the status
   * @return 0 or more; without refused samples
   */
  public double seconds(Status status) {
    return statusSeconds[status.ordinal()];
  }

  /**
   * Whether any sample gave a reading at all, on the ground included.
   *
   * @return false if no line of the log could be used
   */
  public boolean anyReading() {
    return estimated;
  }

  /**
   * Shares of the whole flight, with all refused samples in one.
   *
   * @return shares that add up to 100 %; empty without a flight
   */
  public List<Share> shares() {
    List<Share.Part> parts = new ArrayList<>();
    parts.add(part("sharp", Status.SHARP));
    parts.add(part("coarse", Status.COARSE));
    parts.add(part("past the knee", Status.PAST_KNEE));
    double refused = 0;
    for (double seconds : refusedSeconds) {
      refused += seconds;
    }
    addOthers(parts);
    parts.add(new Share.Part("refused", refused));
    return Share.of(parts);
  }

  /**
   * Shares of the flight without an actionable estimate, by reason.
   *
   * @return shares that add up to 100 % together with the remaining part, which is left out
   */
  public List<Share> withoutEstimate() {
    List<Share.Part> parts = new ArrayList<>();
    parts.add(new Share.Part("", actionableSeconds()));
    for (Verdict verdict : Verdict.values()) {
      parts.add(new Share.Part(verdict.words(), refusedSeconds[verdict.ordinal()]));
    }
    addOthers(parts);
    return Share.of(parts).stream().filter(share -> !share.label().isEmpty()).toList();
  }

  private void addOthers(List<Share.Part> parts) {
    parts.add(part("warming up", Status.WARMING_UP));
    parts.add(part("throttle at idle", Status.IDLE));
    parts.add(part("sensor fault", Status.SENSOR_FAULT));
    parts.add(part("no reading yet", Status.NO_ESTIMATE));
    parts.add(new Share.Part("gaps in the log", gapSeconds));
  }

  private Share.Part part(String words, Status status) {
    return new Share.Part(words, seconds(status));
  }
}
