package org.solarmargin.cli.tune.rule;

import java.util.Arrays;
import org.solarmargin.core.alert.LevelRule;

/**
 * Judges one level's rule on a flight, as the core's alert monitor would with only that level told,
 * but many times faster: while nothing stands, spans of blocks that cannot raise it are skipped.
 * {@code LevelReplayTest} holds it against the monitor itself.
 */
final class LevelReplay {

  private static final int SPAN = 64;
  private static final double BRIDGED_SECONDS = 10;
  private static final double BLIND_SECONDS = 1;
  private static final double TIME_RELEASE = 1.5;
  private static final double MINUTE = 60;
  private static final int RAISES_A_MINUTE = 3;
  private static final int STOPS =
      JudgedFlight.BLIND | JudgedFlight.KNEE | JudgedFlight.GONE | JudgedFlight.GROUNDED;

  private final JudgedFlight flight;
  private final LevelAim aim;
  private final float[] spanMargin;
  private final float[] spanToZero;
  private final boolean[] spanStops;
  private final int[] eventBlocks;
  private final float[] leads;
  private final float[] preceding;
  private float[] nuisanceAt = new float[16];
  private int nuisances;
  private int raises;

  /** A level of a flight; judge as many rules as you like. */
  LevelReplay(JudgedFlight flight, LevelAim aim) {
    this.flight = flight;
    this.aim = aim;
    int spans = (flight.size() + SPAN - 1) / SPAN;
    spanMargin = new float[spans];
    spanToZero = new float[spans];
    spanStops = new boolean[spans];
    Arrays.fill(spanMargin, Float.POSITIVE_INFINITY);
    Arrays.fill(spanToZero, Float.POSITIVE_INFINITY);
    for (int i = 0; i < flight.size(); i++) {
      int s = i / SPAN;
      spanMargin[s] = Math.min(spanMargin[s], flight.margin(i));
      spanToZero[s] = Math.min(spanToZero[s], flight.toZero(i));
      spanStops[s] |= (flight.flags(i) & STOPS) != 0;
    }
    eventBlocks = new int[flight.events().size()];
    Arrays.setAll(eventBlocks, flight::eventBlock);
    leads = new float[eventBlocks.length];
    preceding = new float[eventBlocks.length];
  }

  /** Judges; the getters then describe what came of it. */
  void judge(LevelRule rule) {
    Arrays.fill(leads, Float.NaN);
    nuisances = 0;
    raises = 0;
    boolean warning = aim == LevelAim.WARNING;
    int allowed = aim.level().ordinal();
    double[] raisedAt = new double[RAISES_A_MINUTE];
    Arrays.fill(raisedAt, Double.NEGATIVE_INFINITY);
    int told = 0;
    boolean standing = false;
    double since = Double.NaN;
    double chain = Double.NaN;
    double cleared = Double.NEGATIVE_INFINITY;
    double on = 0;
    double off = 0;
    double blind = 0;
    int event = 0;
    double before = 0;
    float low = (float) rule.marginPercent();
    float high = (float) (rule.marginPercent() + rule.hysteresisPercent());
    float time = (float) rule.timeSeconds();
    float release = (float) (rule.timeSeconds() * TIME_RELEASE);
    int quiet = JudgedFlight.QUIET << aim.ordinal();
    for (int i = 0; i < flight.size(); i++) {
      if (!standing && i % SPAN == 0) {
        int s = i / SPAN;
        boolean eventWithin = event < eventBlocks.length && eventBlocks[event] < i + SPAN;
        while (s < spanMargin.length - 1
            && !spanStops[s]
            && spanMargin[s] >= low
            && spanToZero[s] >= time
            && !eventWithin) {
          s++;
          eventWithin = event < eventBlocks.length && eventBlocks[event] < (s + 1) * SPAN;
        }
        if (s * SPAN > i) {
          i = s * SPAN;
          before = flight.seconds(i - 1);
          on = 0;
          blind = 0;
        }
      }
      double now = flight.seconds(i);
      double step = now - before;
      before = now;
      while (event < eventBlocks.length && eventBlocks[event] == i) {
        boolean close = standing || now - cleared <= BRIDGED_SECONDS;
        preceding[event] = close ? (float) (now - chain) : Float.NaN;
        leads[event++] = standing ? (float) (now - since) : Float.NaN;
      }
      int flags = flight.flags(i);
      if ((flags & JudgedFlight.GROUNDED) != 0) {
        standing = false;
        cleared = Double.NEGATIVE_INFINITY;
        on = 0;
        blind = 0;
        Arrays.fill(raisedAt, Double.NEGATIVE_INFINITY);
        continue;
      }
      boolean blindHere = (flags & JudgedFlight.BLIND) != 0;
      blind = blindHere ? blind + step : 0;
      boolean judged = !blindHere && (flags & JudgedFlight.TRUSTED) != 0;
      boolean knee = (flags & JudgedFlight.KNEE) != 0;
      boolean gone = judged && (flags & JudgedFlight.GONE) != 0;
      boolean lost = !warning && blind >= BLIND_SECONDS;
      float margin = flight.margin(i);
      float toZero = flight.toZero(i);
      boolean isOn = knee || gone || lost || (judged && (margin < low || toZero < time));
      boolean clear = !isOn && blind == 0 && margin > high && !(toZero < release);
      on = isOn ? on + step : 0;
      off = clear ? off + step : 0;
      if (!standing) {
        boolean due = isOn && (knee || gone || lost || on >= rule.onDelaySeconds());
        if (due && within(raisedAt, now) < allowed) {
          standing = true;
          since = now;
          chain = now - cleared <= BRIDGED_SECONDS ? chain : now;
          raisedAt[told++ % RAISES_A_MINUTE] = now;
          raises++;
          if ((flags & quiet) != 0) {
            nuisanceAt =
                nuisances < nuisanceAt.length
                    ? nuisanceAt
                    : Arrays.copyOf(nuisanceAt, 2 * nuisances);
            nuisanceAt[nuisances++] = (float) now;
          }
        }
      } else if (clear && off >= rule.offDelaySeconds()) {
        if (!warning || within(raisedAt, now) < RAISES_A_MINUTE) {
          standing = false;
          cleared = now;
          off = 0;
        }
      }
    }
  }

  private static int within(double[] raisedAt, double now) {
    int count = 0;
    for (double at : raisedAt) {
      count += now - at < MINUTE ? 1 : 0;
    }
    return count;
  }

  /** How long it had stood when an event began, s; NaN if it did not stand. */
  float lead(int event) {
    return leads[event];
  }

  /**
   * How long before an event it was raised, s, pauses of up to 10 s bridged: a level above hides
   * them. NaN if it neither stood nor had been cleared so short before.
   */
  float preceding(int event) {
    return preceding[event];
  }

  int nuisances() {
    return nuisances;
  }

  /** When the nuisances were raised, s since the flight's first sample. */
  float[] nuisanceTimes() {
    return Arrays.copyOf(nuisanceAt, nuisances);
  }

  int raises() {
    return raises;
  }
}
