package org.solarmargin.sim.sky;

import java.util.Arrays;

/** A recording, interpolated linearly, and constant before its first and after its last point. */
public final class RecordedSky implements Sky {

  private final double[] seconds;
  private final double[] values;

  /**
   * Creates a recording.
   *
   * @param seconds times, s, increasing, at least one
   * @param values light at those times, suns
   * @throws IllegalArgumentException if there is not one value for each time, or times do not
   *     increase
   */
  public RecordedSky(double[] seconds, double[] values) {
    if (seconds.length == 0 || seconds.length != values.length) {
      throw new IllegalArgumentException(
          "a recording needs a value for each time: " + values.length + ", " + seconds.length);
    }
    for (int i = 1; i < seconds.length; i++) {
      if (!(seconds[i] > seconds[i - 1])) {
        throw new IllegalArgumentException("times must rise: " + seconds[i] + " s");
      }
    }
    this.seconds = seconds.clone();
    this.values = values.clone();
  }

  @Override
  public double suns(double time) {
    int at = Arrays.binarySearch(seconds, time);
    if (at >= 0) {
      return values[at];
    }
    int next = -at - 1;
    if (next == 0) {
      return values[0];
    }
    if (next == seconds.length) {
      return values[next - 1];
    }
    double share = (time - seconds[next - 1]) / (seconds[next] - seconds[next - 1]);
    return values[next - 1] + share * (values[next] - values[next - 1]);
  }
}
