package org.solarmargin.core.estimator;

/**
 * Recognises that the readings made a step, were consistent in themselves for some seconds, and
 * returned, as with a wrong scale or a loose connection. What was learned in between is then not
 * valid for this craft.
 *
 * <p>Edges of clouds, lost cells and shadows make steps as well, but these move the operating point
 * along the load line of the motors. A step away from that line is foreign: it is due to a sensor
 * or a motor, and its return need not be a step. {@link Recovery} compares what follows with the
 * state before the first step.
 *
 * <p>The constants are engineering judgement. The threshold was compared in {@code
 * AttackRecoveryTest}: 30, 100 and 400 left 35, 40 and 42 of 4,000 attacks before foreign steps
 * were distinguished; with 30, a shadow that creeps towards the knee is taken for an excursion now
 * and then. With 100 instead of 64, a scaled current leaves one of 4,000 attacks 5.1 % optimistic.
 */
final class ExcursionWatch {

  /** Squared innovation over its variance from which on a sample is a step: 8 sigmas. */
  private static final double STEP = 64;

  /** Longest excursion, s. */
  private static final double LONGEST_SECONDS = 15;

  /** Steps within this time belong together, s. */
  private static final double SAME_SECONDS = 0.3;

  /** Time without a step after which the readings have settled, s. */
  private static final double SETTLED_SECONDS = 0.5;

  /** Time after which a step is judged although the readings do not settle, s. */
  private static final double UNSETTLED_SECONDS = 2;

  /** Duration of foreign readings above which they are not a spike, s. */
  private static final double LASTED_SECONDS = 0.1;

  /** Time for which the earlier state must explain the readings after a foreign step, s. */
  private static final double EXPLAINED_SECONDS = 0.5;

  /** Lag behind which the load is compared with the steady one, s, and its greatest ratio. */
  private static final double LOAD_SECONDS = 0.5;

  private static final double SAME_LOAD = 1.3;

  /** Reduction of the throttle from which on a return may be due to the lower load. */
  private static final double LOWER_THROTTLE = 0.02;

  private float sinceFirst;
  private float sinceLast;
  private float sinceBack;
  private float explained;
  private float firstThrottle;
  private float load;
  private boolean stepped;
  private boolean foreign;
  private boolean blind;
  private boolean back;
  private boolean changed;

  ExcursionWatch() {
    reset();
  }

  void reset() {
    sinceFirst = 0;
    sinceLast = 0;
    sinceBack = 0;
    explained = 0;
    firstThrottle = 0;
    load = 1;
    stepped = false;
    foreign = false;
    blind = false;
    back = false;
    changed = false;
  }

  /**
   * Processes one sample.
   *
   * @param step time since the last sample, s
   * @param size the greater of its squared innovations over their variances
   * @param offLoadLine whether it is a foreign step
   * @return true once, when a later step is to be judged as a return
   */
  boolean follow(double step, double size, boolean offLoadLine, double throttle) {
    sinceFirst += (float) step;
    sinceLast += (float) step;
    sinceBack += (float) step;
    if (size > STEP || offLoadLine) {
      takeStep();
    }
    if (offLoadLine && !foreign) {
      foreign = true;
      firstThrottle = (float) throttle;
    }
    boolean judged = back && settled(sinceBack);
    back &= !judged;
    stepped &= back || judged || sinceFirst <= LONGEST_SECONDS;
    foreign &= stepped;
    blind &= stepped;
    return judged;
  }

  private void takeStep() {
    sinceLast = 0;
    explained = 0;
    if (!stepped) {
      stepped = true;
      sinceFirst = 0;
    } else if (!back && sinceFirst > SAME_SECONDS) {
      back = true;
      sinceBack = 0;
    }
  }

  private boolean settled(double seconds) {
    return sinceLast > SETTLED_SECONDS || seconds > UNSETTLED_SECONDS;
  }

  /** Whether there was a step, and the readings have settled since or do not settle. */
  boolean settled() {
    return stepped && !blind && settled(sinceFirst);
  }

  /** Whether a step that is not yet judged is foreign. */
  boolean awaitsReturn() {
    return foreign && !blind;
  }

  /** Whether there were foreign readings for longer than a spike. */
  boolean lasted() {
    return foreign && sinceFirst - explained > LASTED_SECONDS;
  }

  /**
   * Whether the readings have returned after a foreign step, at no less throttle than before it.
   *
   * @param explains whether the array in the state before the step explains the present sample
   * @param loadRatio ratio of the current to the motors' steady one in that state
   */
  boolean returned(double step, boolean explains, double loadRatio, double throttle) {
    load += (float) (Math.min(step / LOAD_SECONDS, 1) * (loadRatio - load));
    boolean sameLoad = load < SAME_LOAD && load * SAME_LOAD > 1;
    boolean asBefore = explains && sameLoad && throttle > firstThrottle - LOWER_THROTTLE;
    explained = asBefore ? explained + (float) step : 0;
    return explained > EXPLAINED_SECONDS;
  }

  /** Notes that the estimate was reinitialised because no earlier state was known. */
  void reinitialised() {
    blind = true;
    back = false;
  }

  /** Whether the estimate was reinitialised after the first step. */
  boolean blind() {
    return blind;
  }

  /** Whether a later step has not been judged yet. */
  boolean back() {
    return back;
  }

  /** Notes whether the estimate before the later step differs from that before the first. */
  void note(boolean estimateChanged) {
    changed = estimateChanged;
  }

  /** Whether the estimate had changed before the later step. */
  boolean changed() {
    return changed;
  }

  /** Whether the last step was too recent for the readings to have settled. */
  boolean unsettled() {
    return sinceLast <= SETTLED_SECONDS;
  }

  /** Whether there was a step within the longest time that an excursion takes. */
  boolean stepped() {
    return stepped;
  }
}
