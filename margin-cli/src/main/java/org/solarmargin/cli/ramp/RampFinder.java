package org.solarmargin.cli.ramp;

import java.util.ArrayList;
import java.util.List;

/**
 * Finds slow throttle ramps in a log: from idle, rising over at least {@value #LEAST_SECONDS} s
 * without falling. Slow means at most {@value #FASTEST} of full throttle a second, so that filters,
 * delays and holds of a logger shift readings along the curve rather than off it.
 */
public final class RampFinder {

  private static final double LEAST_SECONDS = 5;
  private static final double FASTEST = 0.15;
  private static final double POINT_SECONDS = 0.25;

  /** Throttle of idle over that of hover. */
  private static final double IDLE_SHARE = 0.3;

  /** Least top of a ramp over the throttle of hover. */
  private static final double TOP_SHARE = 0.5;

  /** A throttle logged in steps, or a hand that trembles, falls by no more. */
  private static final double FALL = 0.02;

  private static final double LONGEST_STAY = 2;
  private static final double LONGEST_GAP = 2;

  /** Points kept: ten minutes; a longer ramp is told by its first part. */
  private static final int MOST_POINTS = 2400;

  private final double hover;
  private List<RampPoint> points = new ArrayList<>();
  private List<RampPoint> best = List.of();
  private double last = Double.NaN;
  private double top;
  private double lastRise;
  private double begun;

  private double pointStart;
  private double volts;
  private double amps;
  private double throttle;
  private double celsius;
  private int rows;
  private int fresh;
  private double lastVolts = Double.NaN;
  private double lastAmps = Double.NaN;

  /**
   * A finder that has seen nothing.
   *
   * @param hoverThrottle of the craft, 0 to 1
   */
  public RampFinder(double hoverThrottle) {
    this.hover = hoverThrottle;
  }

  /**
   * Takes a row in the order of time.
   *
   * @param seconds its time, s
   * @param busVolts V
   * @param busAmps A
   * @param command throttle, 0 to 1
   * @param cell temperature, degrees Celsius; NaN if unknown
   */
  public void take(double seconds, double busVolts, double busAmps, double command, double cell) {
    if (!Double.isFinite(seconds + busVolts + busAmps + command)) {
      return;
    }
    boolean idle = command <= IDLE_SHARE * hover;
    boolean broken =
        !(seconds - last <= LONGEST_GAP)
            || command < top - FALL
            || (!idle && seconds - lastRise > LONGEST_STAY)
            || command - top > Math.max(FASTEST * (seconds - lastRise), FALL);
    last = seconds;
    boolean standing = idle && command <= top + 1e-9;
    if (broken || standing) {
      finish();
      points = new ArrayList<>();
      clear();
      top = command;
      lastRise = seconds;
      begun = idle ? seconds : Double.NaN;
    }
    if (Double.isNaN(begun)) {
      return; // not from idle
    }
    if (command > top) {
      top = command;
      lastRise = seconds;
    }
    add(seconds, busVolts, busAmps, command, cell);
  }

  private void add(double seconds, double busVolts, double busAmps, double command, double cell) {
    if (rows > 0 && seconds - pointStart >= POINT_SECONDS) {
      endPoint();
    }
    pointStart = rows == 0 ? seconds : pointStart;
    boolean repeated = busVolts == lastVolts && busAmps == lastAmps;
    lastVolts = busVolts;
    lastAmps = busAmps;
    volts += busVolts;
    amps += busAmps;
    throttle += command;
    celsius += cell;
    rows++;
    fresh += repeated ? 0 : 1;
  }

  private void endPoint() {
    if (rows > 0 && points.size() < MOST_POINTS) {
      double at = 0.5 * (pointStart + last);
      points.add(
          new RampPoint(
              at, volts / rows, amps / rows, throttle / rows, celsius / rows, Math.max(fresh, 1)));
    }
    clear();
  }

  private void clear() {
    volts = 0;
    amps = 0;
    throttle = 0;
    celsius = 0;
    rows = 0;
    fresh = 0;
  }

  private void finish() {
    boolean whole = lastRise - begun >= LEAST_SECONDS && top >= TOP_SHARE * hover;
    if (whole && (best.isEmpty() || top > best.get(best.size() - 1).throttle() + FALL)) {
      best = points;
    }
  }

  /**
   * The ramp that went highest, ended or not.
   *
   * @return points by time; empty if there was no ramp
   */
  public List<RampPoint> points() {
    finish();
    return List.copyOf(best);
  }
}
