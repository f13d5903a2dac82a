package org.solarmargin.core.align;

import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * Sorts commands, voltage and current by the instants to which they belong.
 *
 * <p>Feed commands and readings in order of time, commands first at equal times; after each reading
 * call {@link #next} until it returns false. Voltage and current of one instant are returned
 * together; if they belong to different instants, each is returned alone, at its own. Nothing is
 * interpolated, because an interpolated value varies too little: a current that varies too little
 * biases the estimated light low, a voltage that varies too little biases it high. A reading waits
 * no longer than the other channel's delay. No allocation after construction.
 */
public final class Aligner {

  /**
   * Time constant of the average of the throttle when its timing cannot be trusted, s. Engineering
   * judgement, not tuned.
   */
  private static final double LEFT_OUT_SECONDS = 2;

  /**
   * A command that differs from the average by more than this, relative to the greater of the two,
   * is taken as a take-off or landing. Engineering judgement, not tuned.
   */
  private static final double LEFT_OUT_JUMP = 0.4;

  /** Instants that differ by no more than the rounding of delays and time stamps are equal, ns. */
  private static final long TOLERANCE_NANOS = 400_000L;

  private static final double NANOS = 1e-9;

  /** How much later than the commands a reading may arrive, ns. */
  public static final long WINDOW_NANOS = 500_000_000L;

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
   * Creates an aligner without readings or commands.
   *
   * @param model time model of the readings, not null
   * @param voltsSd noise of the voltage before its filter, 1 sigma, V
   * @param ampsSd noise of the current before its filter, 1 sigma, A
   */
  public Aligner(TimeModel model, double voltsSd, double ampsSd) {
    boolean fixed = model.known();
    double longest = ChannelTiming.LONGEST_DELAY_SECONDS;
    double apart = Math.max(model.volts().delaySeconds(), model.amps().delaySeconds());
    double commandDelay = fixed ? model.commandDelaySeconds() : longest;
    commands = new CommandQueue(commandDelay + WINDOW_NANOS * NANOS);
    volts = new Channel(fixed ? apart : longest);
    amps = new Channel(fixed ? apart : longest);
    voltsVariance = voltsSd * voltsSd;
    ampsVariance = ampsSd * ampsSd;
    configure(model);
    reset();
  }

  /**
   * Changes the time model from now on; waiting readings and commands are kept.
   *
   * @param newModel not null; if the time model given at construction was known, the delays of this
   *     one must not exceed its delays
   */
  public void configure(TimeModel newModel) {
    model = newModel;
    commands.configure(newModel);
    volts.configure(newModel.volts());
    amps.configure(newModel.amps());
  }

  /** Discards all readings and commands and keeps the time model. */
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
   * Adds a command.
   *
   * @param nanos when it was given, ns, not before the last one
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
   * Adds a fresh reading of the voltage.
   *
   * @param nanos when it was read, ns, after the last one
   * @param reading V
   */
  public void volts(long nanos, double reading) {
    clock = nanos;
    volts.put(nanos, reading);
  }

  /**
   * Adds a fresh reading of the current.
   *
   * @param nanos when it was read, ns, after the last one
   * @param reading A
   */
  public void amps(long nanos, double reading) {
    clock = nanos;
    amps.put(nanos, reading);
  }

  /**
   * Removes the oldest reading that is due, that is, before which no other can arrive any more. The
   * first sample has both channels, whatever their instants.
   *
   * @param out receives instant, readings and variances; its throttle is not changed. An absent
   *     channel keeps its last value.
   * @return false if no reading is due
   */
  public boolean next(Sample out) {
    if (!sampled) {
      return firstPair(out);
    }
    // after the first pair or a change of the time model, older readings carry no new information
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

  /** The newest readings of both channels, treated as simultaneous. */
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
   * Weight of a new voltage in the output of its filter after one step.
   *
   * @param seconds length of the step, s
   * @return 0 to 1; 1 without a filter
   */
  public double voltsNew(double seconds) {
    return volts.fresh(seconds);
  }

  /**
   * Weight of a new current in the output of its filter after one step.
   *
   * @param seconds length of the step, s
   * @return 0 to 1; 1 without a filter
   */
  public double ampsNew(double seconds) {
    return amps.fresh(seconds);
  }

  /**
   * Whether a waiting command takes effect at this instant or before.
   *
   * @param nanos the instant, ns
   * @return true if {@link #commandTime} and {@link #takeCommand} may be called
   */
  public boolean commandDue(long nanos) {
    return commands.due(nanos);
  }

  /**
   * When the oldest waiting command takes effect.
   *
   * @return ns
   */
  public long commandTime() {
    return commands.time();
  }

  /**
   * Removes the oldest waiting command.
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
