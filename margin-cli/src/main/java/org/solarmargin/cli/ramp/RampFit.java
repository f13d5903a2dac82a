package org.solarmargin.cli.ramp;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresOptimizer.Optimum;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * Fits two hypotheses to a ramp, equal light on all cells and less light on some; the difference of
 * their sums of squares decides.
 */
public final class RampFit {

  /** Which hypothesis the ramp favours. */
  public enum Light {
    /** All cells have the same light, as far as the ramp went. */
    EVEN,
    /** Some cells have less light. */
    UNEVEN,
    /** The ramp does not decide. */
    UNDECIDED
  }

  /**
   * Reduction of the sum of squares from which the light is called uneven. Two additional unknowns
   * gain 9.2 by chance in one ramp of a hundred (chi-square); the rest allows for errors of the
   * cell model. Checked by {@code RampStudy}.
   */
  private static final double UNEVEN_FROM = 20;

  private static final double EVEN_BELOW = 10;

  /**
   * With a reduced sum of squares above this, neither hypothesis fits, because the light changed.
   */
  private static final double UNSTEADY = 4;

  /** The knee is passed where power has fallen to this share of its maximum. */
  private static final double PAST_KNEE = 0.95;

  /** Fewest points for a fit. */
  private static final int FEWEST = 12;

  private static final int MOST_POINTS = 90;
  private static final double[] CELLS = {1.5, 6};
  private static final double[] DIM = {0.4, 0.65, 0.85};

  private final EstimatorSettings settings;
  private final List<RampPoint> all;
  private final List<RampPoint> fitted;
  private final RampModel evenModel;
  private final RampModel unevenModel;
  private Optimum even;
  private Optimum uneven;

  private RampFit(EstimatorSettings settings, List<RampPoint> all, List<RampPoint> fitted) {
    this.settings = settings;
    this.all = all;
    this.fitted = fitted;
    evenModel = new RampModel(settings, fitted, false);
    unevenModel = new RampModel(settings, fitted, true);
  }

  /**
   * Fits a ramp.
   *
   * @param settings of the craft
   * @param points of the ramp, by time
   * @return null if they are too few
   */
  public static RampFit of(EstimatorSettings settings, List<RampPoint> points) {
    List<RampPoint> upToKnee = upToKnee(points);
    List<RampPoint> fitted = thinned(upToKnee);
    if (fitted.size() < FEWEST) {
      return null;
    }
    RampFit fit = new RampFit(settings, points, fitted);
    fit.run();
    return fit.even == null || fit.uneven == null ? null : fit;
  }

  private static List<RampPoint> upToKnee(List<RampPoint> points) {
    double most = 0;
    for (int i = 0; i < points.size(); i++) {
      double watts = points.get(i).volts() * points.get(i).amps();
      most = Math.max(most, watts);
      boolean loaded = points.get(i).volts() < 0.92 * points.get(0).volts();
      if (loaded && watts < PAST_KNEE * most) {
        return points.subList(0, i);
      }
    }
    return points;
  }

  private static List<RampPoint> thinned(List<RampPoint> points) {
    int every = Math.max((int) Math.ceil(points.size() / (double) MOST_POINTS), 1);
    List<RampPoint> kept = new ArrayList<>();
    // the end of the ramp is the most informative part, so thinning starts from there
    for (int i = points.size() - 1; i >= 0; i -= every) {
      kept.add(0, points.get(i));
    }
    return kept;
  }

  private void run() {
    double isc = settings.cell().photocurrentAmps() * settings.parallelStrings();
    double most = fitted.stream().mapToDouble(RampPoint::amps).max().orElse(0);
    for (double light : new double[] {most / isc * 1.03, 0.9}) {
      even = better(even, optimum(evenModel, evenModel.start(Math.log(Math.max(light, 0.05)))));
    }
    if (even == null) {
      return;
    }
    double[] base = even.getPoint().toArray();
    for (double light : new double[] {base[RampModel.LOG_LIGHT], Math.log(0.95)}) {
      for (double cells : CELLS) {
        for (double dim : DIM) {
          double[] start = unevenModel.start(light);
          System.arraycopy(base, 1, start, 1, RampModel.EVEN - 1);
          start[RampModel.LOG_CELLS] = Math.log(cells);
          start[RampModel.LOG_DIM] = Math.log(dim);
          uneven = better(uneven, optimum(unevenModel, start));
        }
      }
    }
  }

  private static Optimum optimum(RampModel model, double[] start) {
    try {
      return new LevenbergMarquardtOptimizer()
          .optimize(
              new LeastSquaresBuilder()
                  .start(new ArrayRealVector(start, false))
                  .model(model)
                  .target(new double[model.size()])
                  .maxEvaluations(60)
                  .maxIterations(60)
                  .checker((i, a, b) -> Math.abs(a.getCost() - b.getCost()) < 1e-3)
                  .build());
    } catch (MathRuntimeException | IllegalArgumentException e) {
      return null; // another starting point may converge
    }
  }

  private static Optimum better(Optimum a, Optimum b) {
    return a == null || (b != null && b.getCost() < a.getCost()) ? b : a;
  }

  private static double square(Optimum o) {
    return o.getCost() * o.getCost();
  }

  /**
   * By how much uneven light fits the ramp better, as a difference of chi-square.
   *
   * @return 0 or more, except for rounding
   */
  public double evidence() {
    double scatter = Math.max(reduced(uneven), 1);
    return (square(even) - square(uneven)) / scatter;
  }

  private double reduced(Optimum o) {
    return square(o) / fitted.size();
  }

  /**
   * Which hypothesis the ramp favours.
   *
   * @return never null
   */
  public Light light() {
    if (reduced(uneven) > UNSTEADY) {
      return Light.UNDECIDED;
    }
    double evidence = evidence();
    if (evidence < EVEN_BELOW) {
      return Light.EVEN;
    }
    return evidence > UNEVEN_FROM ? Light.UNEVEN : Light.UNDECIDED;
  }

  private Optimum favoured() {
    return light() == Light.UNEVEN ? uneven : even;
  }

  /**
   * Voltage that the array lacks at {@link #mostPowerful()} against the same array with all its
   * cells in the light of the better ones. It is known better than how many cells are dim and how
   * dim they are: few dark cells and many less dim ones bend the curve alike.
   *
   * @return as cells of each string, by the voltage of one of the better cells; 0 in even light
   */
  public double missingCells() {
    if (light() != Light.UNEVEN) {
      return 0;
    }
    RampPoint at = mostPowerful();
    double even = unevenModel.evenVolts(uneven.getPoint().toArray(), at);
    return (even - at.volts()) / even * settings.seriesCells();
  }

  /**
   * The point of the most power, short of the first knee or at it.
   *
   * @return never null
   */
  public RampPoint mostPowerful() {
    return fitted.stream().max(Comparator.comparingDouble(p -> p.volts() * p.amps())).orElseThrow();
  }

  /**
   * Light on the better cells.
   *
   * @return suns
   */
  public double suns() {
    return Math.exp(favoured().getPoint().getEntry(RampModel.LOG_LIGHT));
  }

  /**
   * Relative sigma of {@link #suns()}.
   *
   * @return more than 0
   */
  public double sunsSd() {
    return favoured().getSigma(1e-14).getEntry(RampModel.LOG_LIGHT);
  }

  /**
   * Available power at the ramp's end: the first peak from open circuit down.
   *
   * @return W
   */
  public double watts() {
    return peak()[0];
  }

  /**
   * Power of the array if all its cells had the light of the better ones.
   *
   * @return W
   */
  public double evenWatts() {
    return evenModel.firstPeak(favoured().getPoint().toArray())[0];
  }

  private double[] peak() {
    double[] p = favoured().getPoint().toArray();
    return (light() == Light.UNEVEN ? unevenModel : evenModel).firstPeak(p);
  }

  /**
   * Whether the ramp reached or passed the knee.
   *
   * @return false if the knee is above the top of the ramp
   */
  public boolean kneeReached() {
    return topAmps() >= 0.99 * peak()[1];
  }

  /**
   * Highest current of the ramp, which every cell carried.
   *
   * @return A
   */
  public double topAmps() {
    return all.stream().mapToDouble(RampPoint::amps).max().orElse(0);
  }
}
