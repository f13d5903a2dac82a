package org.solarmargin.core.estimator;

/**
 * Recognises that the readings made a step, were consistent in themselves for some seconds, and
 * stepped back, as with a wrong scale or a loose connection. What was learned in between is then
 * not valid for this craft. Edges of clouds, lost cells and steps of the load are steps as well;
 * {@link MarginEstimator} therefore compares what follows with the state before the first step.
 *
 * <p>The constants are engineering judgement. The threshold was compared in {@code
 * AttackRecoveryTest}: 30, 100 and 400 leave 35, 40 and 42 of 4,000 attacks; with 30, a shadow that
 * creeps towards the knee is taken for an excursion now and then.
 */
final class ExcursionWatch {

  /** Squared innovation over its variance from which on a sample is a step: 10 sigmas. */
  private static final double STEP = 100;

  /** Longest excursion, s. */
  private static final double LONGEST_SECONDS = 15;

  /** Steps within this time belong together, s. */
  private static final double SAME_SECONDS = 0.3;

  /** Time without a step after which the readings have settled, s. */
  private static final double SETTLED_SECONDS = 0.5;

  /** Time after which a step is judged although the readings do not settle, s. */
  private static final double UNSETTLED_SECONDS = 2;

  private float sinceFirst;
  private float sinceLast;
  private float sinceBack;
  private boolean stepped;
  private boolean back;
  private boolean changed;

  ExcursionWatch() {
    reset();
  }

  void reset() {
    sinceFirst = 0;
    sinceLast = 0;
    sinceBack = 0;
    stepped = false;
    back = false;
    changed = false;
  }

  /**
   * Processes one sample.
   *
   * @param step time since the last sample, s
   * @param size the greater of its squared innovations over their variances
   * @return true once, when a later step is to be judged as a return
   */
  boolean follow(double step, double size) {
    sinceFirst += (float) step;
    sinceLast += (float) step;
    sinceBack += (float) step;
    if (size > STEP) {
      takeStep();
    }
    boolean judged = back && settled(sinceBack);
    back &= !judged;
    stepped &= back || judged || sinceFirst <= LONGEST_SECONDS;
    return judged;
  }

  private void takeStep() {
    sinceLast = 0;
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
    return stepped && settled(sinceFirst);
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
