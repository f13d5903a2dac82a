package org.solarmargin.cli.ramp;

import java.util.ArrayList;
import java.util.List;

/**
 * Finds slow throttle ramps in a log: from idle, rising over at least {@value #LEAST_SECONDS} s
 * without falling. Slow means at most {@value #FASTEST} of full throttle per second, so that
 * filters, delays and held readings of a logger shift points along the curve rather than off it.
 */
public final class RampFinder {

  // the limits of this class are engineering judgement
  private static final double LEAST_SECONDS = 5;
  private static final double FASTEST = 0.15;
  private static final double POINT_SECONDS = 0.25;

  /** Highest throttle of idle relative to that of hover. */
  private static final double IDLE_SHARE = 0.3;

  /** Lowest top of a ramp relative to the hover throttle. */
  private static final double TOP_SHARE = 0.5;

  /** Decrease that is tolerated, for a throttle logged in steps or an unsteady hand. */
  private static final double FALL = 0.02;

  private static final double LONGEST_PLATEAU = 2;
  private static final double LONGEST_GAP = 2;

  /** Points kept, ten minutes; of a longer ramp the first part is used. */
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
   * A finder before any row.
   *
   * @param hoverThrottle hover throttle of the craft, 0 to 1
   */
  public RampFinder(double hoverThrottle) {
    this.hover = hoverThrottle;
  }

  /**
   * Adds a row in order of time.
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
            || (!idle && seconds - lastRise > LONGEST_PLATEAU)
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
      return; // the ramp did not begin at idle
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
   * The ramp with the highest top, complete or not.
   *
   * @return points in order of time; empty if there was no ramp
   */
  public List<RampPoint> points() {
    finish();
    return List.copyOf(best);
  }
}
