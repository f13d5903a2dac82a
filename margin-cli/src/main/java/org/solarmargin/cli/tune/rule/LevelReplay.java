package org.solarmargin.cli.tune.rule;

import java.util.Arrays;
import org.solarmargin.core.alert.AlertMonitor;
import org.solarmargin.core.alert.LevelRule;

/**
 * Evaluates one level's rule on a flight as the core's alert monitor would with only that level
 * enabled, but many times faster: while no alert is active, spans of blocks that cannot raise it
 * are skipped. {@code LevelReplayTest} compares it with the monitor.
 */
final class LevelReplay {

  private static final int SPAN = 64;
  private static final double BRIDGED_SECONDS = 10;

  /** Within the rounding of seconds, because the alert monitor counts whole nanoseconds. */
  private static final double MINUTE = AlertMonitor.MINUTE_NANOS / 1e9 - 1e-6;

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

  /** Prepares a level of a flight for any number of rules. */
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

  /** Evaluates a rule; the getters then return the results. */
  void judge(LevelRule rule) {
    Arrays.fill(leads, Float.NaN);
    nuisances = 0;
    raises = 0;
    new Pass(rule).run();
  }

  /** One pass of a rule over the flight. */
  private final class Pass {
    private final LevelRule rule;
    private final boolean warning = aim == LevelAim.WARNING;
    private final int allowed = aim.level().ordinal();
    private final int quiet = JudgedFlight.QUIET << aim.ordinal();
    private final float low;
    private final float high;
    private final float time;
    private final float release;
    private final double[] raisedAt = new double[AlertMonitor.RAISES_A_MINUTE];
    private int raised;
    private boolean standing;
    private double since = Double.NaN;
    private double chain = Double.NaN;
    private double cleared = Double.NEGATIVE_INFINITY;
    private double on;
    private double off;
    private double blind;
    private double before;
    private int event;

    Pass(LevelRule rule) {
      this.rule = rule;
      low = (float) rule.marginPercent();
      high = (float) (rule.marginPercent() + rule.hysteresisPercent());
      time = (float) rule.timeSeconds();
      release = (float) (rule.timeSeconds() * AlertMonitor.TIME_RELEASE);
      Arrays.fill(raisedAt, Double.NEGATIVE_INFINITY);
    }

    void run() {
      for (int i = 0; i < flight.size(); i++) {
        if (!standing && i % SPAN == 0) {
          i = skipQuietSpans(i);
        }
        double now = flight.seconds(i);
        double step = now - before;
        before = now;
        eventsAt(i, now);
        int flags = flight.flags(i);
        if ((flags & JudgedFlight.GROUNDED) != 0) {
          ground();
        } else {
          judge(i, flags, now, step);
        }
      }
    }

    /** The next block to evaluate, from the first one of a span onwards. */
    private int skipQuietSpans(int first) {
      int s = first / SPAN;
      while (s < spanMargin.length - 1
          && !spanStops[s]
          && spanMargin[s] >= low
          && spanToZero[s] >= time
          && !eventBefore((s + 1) * SPAN)) {
        s++;
      }
      if (s * SPAN > first) {
        before = flight.seconds(s * SPAN - 1);
        on = 0;
        blind = 0;
      }
      return s * SPAN;
    }

    private boolean eventBefore(int block) {
      return event < eventBlocks.length && eventBlocks[event] < block;
    }

    private void eventsAt(int i, double now) {
      while (event < eventBlocks.length && eventBlocks[event] == i) {
        boolean close = standing || now - cleared <= BRIDGED_SECONDS;
        preceding[event] = close ? (float) (now - chain) : Float.NaN;
        leads[event++] = standing ? (float) (now - since) : Float.NaN;
      }
    }

    private void ground() {
      standing = false;
      cleared = Double.NEGATIVE_INFINITY;
      on = 0;
      blind = 0;
      Arrays.fill(raisedAt, Double.NEGATIVE_INFINITY);
    }

    private void judge(int i, int flags, double now, double step) {
      boolean blindHere = (flags & JudgedFlight.BLIND) != 0;
      blind = blindHere ? blind + step : 0;
      boolean judged = !blindHere && (flags & JudgedFlight.TRUSTED) != 0;
      boolean knee = (flags & JudgedFlight.KNEE) != 0;
      boolean gone = judged && (flags & JudgedFlight.GONE) != 0;
      boolean lost = !warning && blind >= AlertMonitor.BLIND_SECONDS;
      if (blindHere && !lost) {
        on += on > 0 ? step : 0;
        return;
      }
      boolean atOnce = knee || gone || lost;
      float margin = flight.margin(i);
      float toZero = flight.toZero(i);
      boolean isOn = atOnce || (judged && (margin < low || toZero < time));
      boolean clear = !isOn && blind == 0 && margin > high && !(toZero < release);
      on = isOn ? on + step : 0;
      off = clear ? off + step : 0;
      if (!standing) {
        if (isOn && (atOnce || on >= rule.onDelaySeconds()) && raisesWithin(now) < allowed) {
          raise(now, (flags & quiet) != 0);
        }
      } else if (clear
          && off >= rule.offDelaySeconds()
          && (!warning || raisesWithin(now) < AlertMonitor.RAISES_A_MINUTE)) {
        standing = false;
        cleared = now;
        off = 0;
      }
    }

    private void raise(double now, boolean nuisance) {
      standing = true;
      since = now;
      chain = now - cleared <= BRIDGED_SECONDS ? chain : now;
      raisedAt[raised++ % raisedAt.length] = now;
      raises++;
      if (nuisance) {
        nuisanceAt =
            nuisances < nuisanceAt.length ? nuisanceAt : Arrays.copyOf(nuisanceAt, 2 * nuisances);
        nuisanceAt[nuisances++] = (float) now;
      }
    }

    private int raisesWithin(double now) {
      int count = 0;
      for (double at : raisedAt) {
        count += now - at < MINUTE ? 1 : 0;
      }
      return count;
    }
  }

  /** How long it had been active when an event began, s; NaN if it was not active. */
  float lead(int event) {
    return leads[event];
  }

  /**
   * How long before an event it was raised, s, ignoring interruptions of up to 10 s, because an
   * active higher level hides them. NaN if it was neither active nor cleared within that time.
   */
  float preceding(int event) {
    return preceding[event];
  }

  int nuisances() {
    return nuisances;
  }

  /** Times at which the nuisances were raised, s since the first sample of the flight. */
  float[] nuisanceTimes() {
    return Arrays.copyOf(nuisanceAt, nuisances);
  }

  int raises() {
    return raises;
  }
}
