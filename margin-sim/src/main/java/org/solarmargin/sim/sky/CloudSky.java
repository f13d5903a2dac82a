package org.solarmargin.sim.sky;

/**
 * One passing cloud with sigmoid edges (the shape of Lappalainen and Valkealahti, Solar Energy 112,
 * 2015) and brighter light just outside each edge.
 *
 * @param clearSuns light without the cloud, suns
 * @param depth share of the light that the cloud blocks, 0 to 1
 * @param startSeconds when the middle of the first edge passes, s
 * @param lengthMetres length from edge to edge, m
 * @param edgeMetres length over which the light changes from 12 to 88 %, m
 * @param speedMetresPerSecond speed of the shadow over the ground, m/s
 * @param enhancement share of light added just outside an edge
 */
public record CloudSky(
    double clearSuns,
    double depth,
    double startSeconds,
    double lengthMetres,
    double edgeMetres,
    double speedMetresPerSecond,
    double enhancement)
    implements Sky {

  @Override
  public double suns(double seconds) {
    double along = (seconds - startSeconds) * speedMetresPerSecond;
    double scale = edgeMetres / 4;
    double inside = sigmoid(along / scale) * sigmoid((lengthMetres - along) / scale);
    double rim = bump((along + edgeMetres) / edgeMetres);
    double farRim = bump((along - lengthMetres - edgeMetres) / edgeMetres);
    return clearSuns * (1 - depth * inside + enhancement * (rim + farRim) * (1 - inside));
  }

  private static double sigmoid(double x) {
    return 1 / (1 + StrictMath.exp(-x));
  }

  private static double bump(double x) {
    return StrictMath.exp(-x * x);
  }
}
