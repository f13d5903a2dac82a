package org.solarmargin.core.align;

import org.solarmargin.core.timing.TimeModel;

/**
 * Brings commands, voltage and current to one instant and one lag.
 *
 * <p>Feed commands and readings in the order of time, commands first at equal times; after each
 * reading {@link #next} tells whether all channels know a newer instant. No allocation after
 * construction.
 */
public final class Aligner {

  /** Lag over which the throttle is averaged where its timing cannot be trusted, s. */
  private static final double LEFT_OUT_SECONDS = 2;

  /** A command so far from the average, relative, is a take-off or landing. */
  private static final double LEFT_OUT_JUMP = 0.4;

  /** Channels of unequal delay may know instants that differ by no more than rounding. */
  private static final long LEAST_NANOS = 400_000L;

  private static final double NANOS = 1e-9;

  private final double voltsVariance;
  private final double ampsVariance;
  private final CommandQueue commands = new CommandQueue();
  private final Channel volts = new Channel();
  private final Channel amps = new Channel();

  private TimeModel model;
  private boolean commanded;
  private boolean sampled;
  private long lastSample;
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
    voltsVariance = voltsSd * voltsSd;
    ampsVariance = ampsSd * ampsSd;
    configure(model);
    reset();
  }

  /**
   * Takes another time model from now on; what is on its way stays.
   *
   * @param newModel not null
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
    volts.put(nanos, reading);
  }

  /**
   * Takes a fresh reading of the current.
   *
   * @param nanos when it was read, after the last one
   * @param reading A
   */
  public void amps(long nanos, double reading) {
    amps.put(nanos, reading);
  }

  /**
   * Moves to the newest instant that both sensors know.
   *
   * @param out gets instant, readings and variances; its throttle is left alone
   * @return false if no instant is newer than the last one's
   */
  public boolean next(Sample out) {
    if (volts.empty() || amps.empty()) {
      return false;
    }
    // where one of the two must be interpolated it is the current: interpolated values move too
    // little, and a current that moves too little looks like a dim sun, a voltage like a bright one
    long instant = volts.lastUntil(Math.min(volts.newest(), amps.newest()));
    if (sampled && instant - lastSample < LEAST_NANOS) {
      return false;
    }
    sampled = true;
    lastSample = instant;
    out.nanos = instant;
    out.volts = volts.at(instant);
    out.amps = amps.at(instant);
    out.voltsVariance = voltsVariance;
    out.ampsVariance = ampsVariance;
    out.voltsReadout = volts.readoutVariance() + volts.betweenVariance();
    out.ampsReadout = amps.readoutVariance() + amps.betweenVariance();
    return true;
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
