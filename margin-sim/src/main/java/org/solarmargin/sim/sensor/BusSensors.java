package org.solarmargin.sim.sensor;

import java.util.Random;

/** Converts true bus voltage and current into readings. */
public final class BusSensors {

  private static final double SPIKE_FACTOR = 3;

  /** Longest interval of independent noise ahead of a filter, s: that of a log at 50 Hz. */
  private static final double NOISE_SECONDS = 0.02;

  private final ReadingFaults faults;
  private final ReadingChannel voltsChannel;
  private final ReadingChannel ampsChannel;
  private final Random random;
  private double volts;
  private double amps;

  /**
   * Creates the sensors.
   *
   * @param errors their errors
   * @param step step of the flight, s
   * @param sampleHertz sample rate of the log, Hz
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
   * Processes the true values of one step; call it for each step.
   *
   * @param trueVolts voltage from the start of the step to its end, V
   * @param trueAmps current from the start of the step to its end, A
   */
  public void follow(double trueVolts, double trueAmps) {
    voltsChannel.follow(trueVolts);
    ampsChannel.follow(trueAmps);
  }

  /**
   * Takes a reading at the start of the last step.
   *
   * @param seconds time, s
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
