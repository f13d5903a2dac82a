package org.solarmargin.core.monitor;

import java.util.Arrays;
import java.util.Random;

/** Invalid readings, commands and time stamps, of one random kind for each object. */
final class InvalidInput {

  private static final double[] ODD = {
    Double.NaN,
    Double.POSITIVE_INFINITY,
    Double.NEGATIVE_INFINITY,
    Double.MAX_VALUE,
    -Double.MAX_VALUE,
    Double.MIN_VALUE,
    0,
    -1,
    36,
    1e6
  };

  private enum Kind {
    ODD_VALUES,
    ANY_READING,
    ANY_COMMAND,
    STUCK,
    SCALED,
    EXCHANGED,
    SPIKES,
    STRAY_STAMPS,
    STATE
  }

  private final Random random;
  private final Kind kind;
  private final double voltScale;
  private final double ampScale;
  private double[] stuck;

  InvalidInput(Random random) {
    this.random = random;
    kind = Kind.values()[random.nextInt(Kind.values().length)];
    voltScale = 0.7 + 0.6 * random.nextDouble();
    ampScale = 0.3 + 1.4 * random.nextDouble();
  }

  /** Feeds the monitor with invalid input in place of a sample. */
  void feed(MarginMonitor monitor, long nanos, double[] sample) {
    double[] s = sample.clone();
    long time = nanos;
    switch (kind) {
      case ODD_VALUES -> Arrays.setAll(s, i -> random.nextBoolean() ? s[i] : odd());
      case ANY_READING -> {
        s[0] = 36 * random.nextDouble();
        s[1] = 12 * random.nextDouble();
      }
      case ANY_COMMAND -> s[2] = random.nextDouble();
      case STUCK -> {
        stuck = stuck == null ? s.clone() : stuck;
        s[0] = stuck[0];
        s[1] = stuck[1];
      }
      case SCALED -> {
        s[0] *= voltScale;
        s[1] *= ampScale;
      }
      case EXCHANGED -> {
        s[0] = sample[1];
        s[1] = sample[0];
      }
      case SPIKES -> s[random.nextInt(2)] *= random.nextInt(4) == 0 ? 2 * random.nextDouble() : 1;
      case STRAY_STAMPS ->
          time = random.nextInt(4) == 0 ? nanos + (random.nextLong() >> random.nextInt(40)) : nanos;
      case STATE -> {
        byte[] state = new byte[MarginMonitor.STATE_BYTES];
        monitor.save(state);
        state[random.nextInt(state.length)] ^= (byte) (1 << random.nextInt(8));
        monitor.restore(state, nanos, random.nextDouble());
      }
    }
    monitor.update(time, s[0], s[1], s[2]);
  }

  private double odd() {
    return ODD[random.nextInt(ODD.length)];
  }

  @Override
  public String toString() {
    return kind.toString();
  }
}
