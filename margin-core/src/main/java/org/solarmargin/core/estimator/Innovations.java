package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.StateBounds.clamp;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.state.StateBytes;

/**
 * The innovations of the last sample, divided by their sigmas, and the process noise of light and
 * back-EMF that follows from them.
 *
 * <p>The innovation of the voltage is taken conditional on the current's. When it keeps one sign,
 * the light is at an edge ({@link EdgeDetector}). The constants are engineering judgement, not
 * tuned.
 */
final class Innovations {

  /** Squared innovation over its variance above which a sample is an outlier: 3 sigmas. */
  static final double JUMP = 9;

  /** The same above which an update may be deferred by a sample: 5.5 sigmas. */
  static final double HOLD = 30;

  private static final double MOST_EMF_NOISE = 10;
  private static final double LONGEST_SECONDS = 0.1;

  private final EdgeDetector edge = new EdgeDetector();
  private double emfNoise;
  private double variance;
  private double counted;
  private double amps;
  private double volts;
  private double sinceVolts;
  private double sinceAmps;

  void reset() {
    edge.reset();
    emfNoise = 1;
    variance = 1;
    counted = 0;
    // their squared norm is then the expected one, 2
    amps = 1;
    volts = 1;
    sinceVolts = 0;
    sinceAmps = 0;
  }

  /**
   * Takes the innovations of a sample, linearised at its prediction.
   *
   * @param seconds time since the last sample
   */
  void follow(double seconds, Sample sample, Measurement m) {
    variance = 1;
    counted = 0;
    sinceVolts += seconds;
    sinceAmps += seconds;
    if (sample.hasAmps) {
      amps = m.yAmps / Math.sqrt(m.varianceAmps);
      double growth =
          0.5 * Math.min(sinceAmps, LONGEST_SECONDS) * (Math.min(m.normAmps(), JUMP) - 1);
      emfNoise = clamp(emfNoise * (1 + growth * (1 + 0.5 * growth)), 1, MOST_EMF_NOISE);
      sinceAmps = 0;
      counted += amps * amps;
      variance *= m.varianceAmps;
    }
    if (sample.hasVolts) {
      double conditional = m.yVolts - m.covariance / m.varianceAmps * m.yAmps;
      double left = m.varianceVolts - m.covariance * m.covariance / m.varianceAmps;
      volts = conditional / Math.sqrt(left);
      edge.follow(sinceVolts, volts);
      sinceVolts = 0;
      counted += volts * volts;
      variance *= left;
    }
  }

  /** Innovation of the last current, divided by its sigma. */
  double amps() {
    return amps;
  }

  /** Innovation of the last voltage conditional on the current's, divided by its sigma. */
  double volts() {
    return volts;
  }

  /** Normalised innovation squared: 2 on average. */
  double normalised() {
    return volts * volts + amps * amps;
  }

  /**
   * Logarithm of the probability density of the last sample given those before, without the
   * normalising constant; the squared norm of the innovation is limited to {@value #HOLD}.
   */
  double logLikelihood() {
    return 0.5 * (Math.log(1 / variance) - Math.min(counted, HOLD));
  }

  /** Factor on the process noise of the back-EMF, 1 or more. */
  double emfNoise() {
    return emfNoise;
  }

  /** Process noise of the logarithm of the light, 1 over root second. */
  double lightDrift() {
    return edge.lightDrift();
  }

  void write(StateBytes out) {
    edge.write(out);
    out.put(emfNoise);
  }

  void read(StateBytes in) {
    edge.read(in);
    emfNoise = clamp(in.get(), 1, MOST_EMF_NOISE);
  }
}
