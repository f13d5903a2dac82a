package org.solarmargin.sim.sky;

/**
 * One cloud that passes: sigmoid edges (the shape of Lappalainen and Valkealahti, Solar Energy 112,
 * 2015) and brighter light just outside each edge.
 *
 * @param clearSuns light without the cloud
 * @param depth share of the light that the cloud takes, 0 to 1
 * @param startSeconds when the middle of the first edge passes
 * @param lengthMetres from edge to edge
 * @param edgeMetres over which the light goes from 12 to 88 %
 * @param speedMetresPerSecond of the shadow over the ground
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
