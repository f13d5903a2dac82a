package org.solarmargin.sim.sensor;

import java.util.Random;

/** Turns true bus voltage and current into readings. */
public final class BusSensors {

  private static final double SPIKE_FACTOR = 3;

  /** Longest interval of independent noise ahead of a filter, s: a log of 50 samples a second. */
  private static final double NOISE_SECONDS = 0.02;

  private final ReadingFaults faults;
  private final ReadingChannel voltsChannel;
  private final ReadingChannel ampsChannel;
  private final Random random;
  private double volts;
  private double amps;

  /**
   * Sensors.
   *
   * @param errors what is wrong with them
   * @param step of the flight, s
   * @param sampleHertz rate of the log
   * @param random source of noise and faults of the samples
   * @param channelNoise source of the noise ahead of filters, delays and holds
   */
  public BusSensors(
      SensorErrors errors, double step, double sampleHertz, Random random, Random channelNoise) {
    double noiseSeconds = Math.min(NOISE_SECONDS, 1 / sampleHertz);
    this.faults = errors.faults();
    this.random = random;
    voltsChannel =
        new ReadingChannel(errors.volts(), step, noiseSeconds, new Random(channelNoise.nextLong()));
    ampsChannel =
        new ReadingChannel(errors.amps(), step, noiseSeconds, new Random(channelNoise.nextLong()));
  }

  /**
   * Follows the truth; call each step.
   *
   * @param trueVolts V, from the start of the step to its end
   * @param trueAmps A, likewise
   */
  public void follow(double trueVolts, double trueAmps) {
    voltsChannel.follow(trueVolts);
    ampsChannel.follow(trueAmps);
  }

  /**
   * Takes a reading at the start of the step that was followed last.
   *
   * @param seconds time
   * @return false if the sample is missing
   */
  public boolean read(double seconds) {
    double noiseVolts = random.nextGaussian();
    double noiseAmps = random.nextGaussian();
    double luck = random.nextDouble();
    boolean frozen =
        seconds >= faults.freezeStart() && seconds < faults.freezeStart() + faults.freezeSeconds();
    volts = voltsChannel.read(noiseVolts);
    if (!frozen) {
      amps = ampsChannel.read(noiseAmps);
    }
    if (luck < faults.spikeShare() / 2) {
      volts /= SPIKE_FACTOR;
    } else if (luck < faults.spikeShare()) {
      amps = amps * SPIKE_FACTOR + 1;
    }
    return luck < 1 - faults.dropoutShare();
  }

  /**
   * Voltage of the last reading.
   *
   * @return V
   */
  public double volts() {
    return volts;
  }

  /**
   * Current of the last reading.
   *
   * @return A
   */
  public double amps() {
    return amps;
  }
}
