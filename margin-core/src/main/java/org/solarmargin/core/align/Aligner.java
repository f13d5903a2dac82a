package org.solarmargin.core.align;

import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * Brings commands, voltage and current into the order of the instants to which they belong.
 *
 * <p>Feed commands and readings in the order of time, commands first at equal times; after each
 * reading call {@link #next} until it returns false. Voltage and current of one instant come
 * together; where they belong to different instants each comes alone, at its own. Nothing is
 * interpolated: an interpolated value moves too little, and a current that moves too little looks
 * like a dim sun, a voltage like a bright one. A reading waits for no longer than the other
 * channel's delay. No allocation after construction.
 */
public final class Aligner {

  /** Lag over which the throttle is averaged where its timing cannot be trusted, s. */
  private static final double LEFT_OUT_SECONDS = 2;

  /** A command so far from the average, relative, is a take-off or landing. */
  private static final double LEFT_OUT_JUMP = 0.4;

  /** Instants that differ by no more than rounding of delays and time stamps are one. */
  private static final long TOLERANCE_NANOS = 400_000L;

  private static final double NANOS = 1e-9;

  private final double voltsVariance;
  private final double ampsVariance;
  private final CommandQueue commands;
  private final Channel volts;
  private final Channel amps;

  private TimeModel model;
  private boolean commanded;
  private boolean sampled;
  private long lastSample;
  private long clock;
  private long lastCommand;
  private double average;

  /**
   * A front end that has seen nothing.
   *
   * @param model time model of the readings, not null
   * @param voltsSd noise of the voltage before its filter, 1 sigma, V
   * @param ampsSd noise of the current before its filter, 1 sigma, A
   */
  public Aligner(TimeModel model, double voltsSd, double ampsSd) {
    boolean fixed = model.known();
    double longest = ChannelTiming.LONGEST_DELAY_SECONDS;
    double apart = Math.max(model.volts().delaySeconds(), model.amps().delaySeconds());
    commands = new CommandQueue();
    volts = new Channel(fixed ? apart : longest);
    amps = new Channel(fixed ? apart : longest);
    voltsVariance = voltsSd * voltsSd;
    ampsVariance = ampsSd * ampsSd;
    configure(model);
    reset();
  }

  /**
   * Takes another time model from now on; what is on its way stays.
   *
   * @param newModel not null; if the first one was known, its delays are no longer than that one's
   */
  public void configure(TimeModel newModel) {
    model = newModel;
    commands.configure(newModel);
    volts.configure(newModel.volts());
    amps.configure(newModel.amps());
  }

  /** Forgets all readings and commands; the time model stays. */
  public void reset() {
    commands.reset();
    volts.reset();
    amps.reset();
    commanded = false;
    sampled = false;
    lastSample = Long.MIN_VALUE;
    clock = 0;
    average = 0;
  }

  /**
   * Takes a command.
   *
   * @param nanos when it was given, not before the last one
   * @param throttle 0 to 1
   */
  public void command(long nanos, double throttle) {
    commands.put(nanos, model.throttleUsed() ? throttle : averaged(nanos, throttle));
    lastCommand = nanos;
    commanded = true;
  }

  private double averaged(long nanos, double throttle) {
    boolean jump = Math.abs(throttle - average) > LEFT_OUT_JUMP * Math.max(throttle, average);
    if (!commanded || jump) {
      average = throttle;
    } else {
      double seconds = Math.max((nanos - lastCommand) * NANOS, 0);
      double share = CommandQueue.share(seconds, LEFT_OUT_SECONDS);
      average = CommandQueue.lagged(average, throttle, share);
    }
    return average;
  }

  /**
   * Takes a fresh reading of the voltage.
   *
   * @param nanos when it was read, after the last one
   * @param reading V
   */
  public void volts(long nanos, double reading) {
    clock = nanos;
    volts.put(nanos, reading);
  }

  /**
   * Takes a fresh reading of the current.
   *
   * @param nanos when it was read, after the last one
   * @param reading A
   */
  public void amps(long nanos, double reading) {
    clock = nanos;
    amps.put(nanos, reading);
  }

  /**
   * Takes out the oldest reading whose instant is due: no earlier one can come. The first sample
   * has both channels, whatever their instants.
   *
   * @param out gets instant, readings and variances; its throttle is left alone. A channel that is
   *     absent keeps its last value.
   * @return false if no reading is due
   */
  public boolean next(Sample out) {
    if (!sampled) {
      return firstPair(out);
    }
    // after the first pair, or a change of the time model, older readings tell nothing new
    volts.dropUntil(lastSample + TOLERANCE_NANOS);
    amps.dropUntil(lastSample + TOLERANCE_NANOS);
    long instant = Math.min(volts.time(), amps.time());
    long wait = Math.max(volts.delayNanos(), amps.delayNanos());
    if (instant == Long.MAX_VALUE || instant > clock - wait + TOLERANCE_NANOS) {
      return false;
    }
    take(out, instant + TOLERANCE_NANOS);
    return true;
  }

  /** The newest readings of both channels, taken as simultaneous. */
  private boolean firstPair(Sample out) {
    if (volts.empty() || amps.empty()) {
      return false;
    }
    sampled = true;
    take(out, Long.MAX_VALUE);
    return true;
  }

  private void take(Sample out, long until) {
    out.hasVolts = false;
    out.hasAmps = false;
    long newest = lastSample;
    while (!volts.empty() && volts.time() <= until) {
      out.volts = volts.value();
      out.hasVolts = true;
      newest = Math.max(newest, volts.time());
      volts.drop();
    }
    while (!amps.empty() && amps.time() <= until) {
      out.amps = amps.value();
      out.hasAmps = true;
      newest = Math.max(newest, amps.time());
      amps.drop();
    }
    lastSample = newest;
    out.nanos = newest;
    out.voltsVariance = voltsVariance;
    out.ampsVariance = ampsVariance;
    out.voltsReadout = volts.roundingVariance();
    out.ampsReadout = amps.roundingVariance();
  }

  /**
   * How much of a new voltage its filter takes in over a step.
   *
   * @param seconds step, s
   * @return 0 to 1; 1 without a filter
   */
  public double voltsNew(double seconds) {
    return volts.fresh(seconds);
  }

  /**
   * How much of a new current its filter takes in over a step.
   *
   * @param seconds step, s
   * @return 0 to 1; 1 without a filter
   */
  public double ampsNew(double seconds) {
    return amps.fresh(seconds);
  }

  /**
   * Whether a command waits that acts at this instant or before.
   *
   * @param nanos the instant
   * @return true if {@link #commandTime} and {@link #takeCommand} have one
   */
  public boolean commandDue(long nanos) {
    return commands.due(nanos);
  }

  /**
   * When the oldest waiting command acts.
   *
   * @return ns
   */
  public long commandTime() {
    return commands.time();
  }

  /**
   * Takes out the oldest waiting command.
   *
   * @return throttle, 0 to 1
   */
  public double takeCommand() {
    double throttle = commands.value();
    commands.drop();
    return throttle;
  }

  /**
   * The time model in use.
   *
   * @return never null
   */
  public TimeModel model() {
    return model;
  }
}
