package org.solarmargin.sim.sky;

import java.util.Random;

/**
 * Broken clouds as a random field: shadows whose lengths follow a power law (Mol et al., JGR
 * Atmospheres 128(5), 2023), with sigmoid edges and clear gaps in between. It is laid out once,
 * from the seed.
 */
public final class BrokenSky implements Sky {

  /** Exponent of the power law, for lengths between the smallest and the largest. */
  private static final double SIZE_EXPONENT = 1.66;

  private static final double SMALLEST_METRES = 20;
  private static final double LARGEST_METRES = 1500;

  private final CloudSky[] clouds;
  private final double clear;

  /**
   * Creates a field that is long enough for a flight.
   *
   * @param clearSuns light between clouds, suns
   * @param cover share of the time in shadow, 0 to 0.95
   * @param depth greatest share of the light that a cloud blocks, 0 to 1; each blocks at least half
   *     of it
   * @param edgeMetres mean length of the edges, m
   * @param speed speed of the shadows, m/s
   * @param enhancement share of light added just outside an edge
   * @param seconds duration of the field, s
   * @param random source of the layout
   */
  public BrokenSky(
      double clearSuns,
      double cover,
      double depth,
      double edgeMetres,
      double speed,
      double enhancement,
      double seconds,
      Random random) {
    clear = clearSuns;
    java.util.List<CloudSky> list = new java.util.ArrayList<>();
    double at = -LARGEST_METRES * random.nextDouble();
    while (at < seconds * speed + LARGEST_METRES) {
      double length = powerLaw(random);
      double gap = powerLaw(random) * (1 - cover) / Math.max(cover, 0.01);
      double own = depth * (0.5 + 0.5 * random.nextDouble());
      double edge = Math.min(edgeMetres * (0.5 + random.nextDouble()), length);
      list.add(new CloudSky(1, own, at / speed, length, edge, speed, enhancement));
      at += length + gap;
    }
    clouds = list.toArray(CloudSky[]::new);
  }

  private static double powerLaw(Random random) {
    double power = 1 - SIZE_EXPONENT;
    double low = StrictMath.pow(SMALLEST_METRES, power);
    double high = StrictMath.pow(LARGEST_METRES, power);
    return StrictMath.pow(low + random.nextDouble() * (high - low), 1 / power);
  }

  @Override
  public double suns(double seconds) {
    double light = clear;
    for (CloudSky cloud : clouds) {
      double reach = 6 * cloud.edgeMetres() / cloud.speedMetresPerSecond();
      double length = cloud.lengthMetres() / cloud.speedMetresPerSecond();
      if (seconds > cloud.startSeconds() - reach
          && seconds < cloud.startSeconds() + length + reach) {
        light *= cloud.suns(seconds);
      }
    }
    return light;
  }
}
