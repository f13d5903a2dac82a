package org.solarmargin.sim.sensor;

import java.util.Random;

/** Turns true bus voltage and current into readings. */
public final class BusSensors {

  private static final double SPIKE_FACTOR = 3;

  private final SensorErrors errors;
  private final Random random;
  private double laggedVolts = Double.NaN;
  private double laggedAmps;
  private double volts;
  private double amps;

  /**
   * Sensors.
   *
   * @param errors what is wrong with them
   * @param random source of noise
   */
  public BusSensors(SensorErrors errors, Random random) {
    this.errors = errors;
    this.random = random;
  }

  /**
   * Follows the truth through the lag; call each step.
   *
   * @param seconds step
   * @param trueVolts V
   * @param trueAmps A
   */
  public void follow(double seconds, double trueVolts, double trueAmps) {
    double share = errors.lagSeconds() <= seconds ? 1 : seconds / errors.lagSeconds();
    if (Double.isNaN(laggedVolts)) {
      share = 1;
      laggedVolts = trueVolts;
    }
    laggedVolts += share * (trueVolts - laggedVolts);
    laggedAmps += share * (trueAmps - laggedAmps);
  }

  /**
   * Takes a reading.
   *
   * @param seconds time
   * @return false if the sample is missing
   */
  public boolean read(double seconds) {
    double noiseVolts = random.nextGaussian();
    double noiseAmps = random.nextGaussian();
    double luck = random.nextDouble();
    boolean frozen =
        seconds >= errors.freezeStart() && seconds < errors.freezeStart() + errors.freezeSeconds();
    volts =
        quantise(
            laggedVolts * errors.voltageGain() + errors.voltageNoise() * noiseVolts,
            errors.voltageStep());
    if (!frozen) {
      amps =
          quantise(
              laggedAmps * errors.currentGain()
                  + errors.currentOffset()
                  + errors.currentNoise() * noiseAmps,
              errors.currentStep());
    }
    if (luck < errors.spikeShare() / 2) {
      volts /= SPIKE_FACTOR;
    } else if (luck < errors.spikeShare()) {
      amps = amps * SPIKE_FACTOR + 1;
    }
    return luck < 1 - errors.dropoutShare();
  }

  private static double quantise(double value, double step) {
    return step <= 0 ? value : step * Math.rint(value / step);
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
