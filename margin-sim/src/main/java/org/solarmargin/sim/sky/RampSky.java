package org.solarmargin.sim.sky;

/**
 * Trapezoids of light: low, ramp up, dwell, ramp down, dwell. It is an input profile in the form of
 * EN 50530 annex B, without any claim of conformity.
 *
 * @param lowSuns lower level, suns
 * @param highSuns upper level, suns, not below the lower one
 * @param sunsPerSecond slope, suns/s, more than 0
 * @param dwellSeconds time at each level, s, 0 or more
 * @param repeats number of cycles
 * @param waitSeconds time at the first level before the first ramp, s
 * @param startHigh whether it starts at the upper level and goes down first
 */
public record RampSky(
    double lowSuns,
    double highSuns,
    double sunsPerSecond,
    double dwellSeconds,
    int repeats,
    double waitSeconds,
    boolean startHigh)
    implements Sky {

  /**
   * Duration of the whole profile.
   *
   * @return s
   */
  public double durationSeconds() {
    return waitSeconds + repeats * 2 * (rampSeconds() + dwellSeconds);
  }

  private double rampSeconds() {
    return (highSuns - lowSuns) / sunsPerSecond;
  }

  @Override
  public double suns(double seconds) {
    double first = startHigh ? highSuns : lowSuns;
    double second = startHigh ? lowSuns : highSuns;
    double ramp = rampSeconds();
    double cycle = 2 * (ramp + dwellSeconds);
    double t = seconds - waitSeconds;
    if (t <= 0) {
      return first;
    }
    if (t >= repeats * cycle) {
      return first;
    }
    t -= cycle * Math.floor(t / cycle);
    if (t < ramp) {
      return first + (second - first) * t / ramp;
    }
    if (t < ramp + dwellSeconds) {
      return second;
    }
    if (t < 2 * ramp + dwellSeconds) {
      return second + (first - second) * (t - ramp - dwellSeconds) / ramp;
    }
    return first;
  }
}
