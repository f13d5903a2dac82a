package org.solarmargin.cli.outlook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

/** Trends over flights: compared with a published regression, and which kind of trend is found. */
class TrendTest {

  /**
   * Anscombe (The American Statistician 27, 1973), first set, for which he gives the slope 0.5,
   * standard error 0.118 and 9 degrees of freedom; Student's t for 95 % is 2.262 there. A change in
   * 30 days is thirty slopes.
   */
  @Test
  void aSlopeHasThePublishedError() {
    // his x values, 4 to 14, are the days
    double[] sorted = {4.26, 5.68, 7.24, 4.82, 6.95, 8.81, 8.04, 8.33, 10.84, 7.58, 9.96};
    List<Trend.Point> points = new ArrayList<>();
    for (int i = 0; i < sorted.length; i++) {
      points.add(new Trend.Point(4 + i, sorted[i]));
    }
    Trend trend = Trend.of(points);
    assertEquals(Trend.Kind.SLOPE, trend.kind());
    assertEquals(30 * 0.5001, trend.change(), 30 * 5e-4);
    assertEquals(30 * 2.262 * 0.118, trend.high() - trend.change(), 30 * 2.262 * 5e-4);
    assertEquals(7.50, trend.at(9, 0), 5e-3);
  }

  private static List<Trend.Point> flights(int count, IntToDoubleFunction percent, long seed) {
    Random random = new Random(seed);
    List<Trend.Point> points = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      points.add(new Trend.Point(5 * i, percent.applyAsDouble(i) + random.nextGaussian()));
    }
    return points;
  }

  @Test
  void aStepIsDistinguishedFromASlope() {
    Trend step = Trend.of(flights(12, i -> i < 7 ? 98 : 86, 1));
    assertEquals(Trend.Kind.STEP, step.kind());
    assertEquals(7, step.before());
    assertTrue(step.low() < -12 && step.high() > -12, step.toString());
    Trend slope = Trend.of(flights(12, i -> 98 - i, 1));
    assertEquals(Trend.Kind.SLOPE, slope.kind());
    // one percent in 5 days
    assertTrue(slope.low() < -6 && slope.high() > -6, slope.toString());
  }

  /** Of 400 logbooks without change, about 5 % show a slope, and a few more a step. */
  @Test
  void constantFlightsRarelyShowATrend() {
    int found = 0;
    for (int seed = 0; seed < 400; seed++) {
      Trend.Kind kind = Trend.of(flights(10, i -> 95, seed)).kind();
      found += kind == Trend.Kind.SLOPE || kind == Trend.Kind.STEP ? 1 : 0;
    }
    assertTrue(found > 4 && found < 40, found + " of 400");
  }

  @Test
  void fewFlightsOrOneDayGiveNoTrend() {
    assertEquals(Trend.Kind.TOO_FEW, Trend.of(List.of()).kind());
    assertEquals(Trend.Kind.TOO_FEW, Trend.of(flights(3, i -> 95 - i, 1)).kind());
    List<Trend.Point> oneDay = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      oneDay.add(new Trend.Point(i / 24.0, 95 - i));
    }
    assertEquals(Trend.Kind.TOO_FEW, Trend.of(oneDay).kind());
  }

  /** Before a step it is the mean before it, after it that and the change. */
  @Test
  void whatATrendExpectsIsOnItsLine() {
    Trend step = new Trend(Trend.Kind.STEP, -12, -14, -10, 7, 98, Double.NaN);
    assertEquals(98, step.at(30, 6));
    assertEquals(86, step.at(35, 7));
    Trend slope = new Trend(Trend.Kind.SLOPE, -3, -4, -2, 0, 95, 20);
    assertEquals(95, slope.at(20, 0), 1e-12);
    assertEquals(92, slope.at(50, 0), 1e-12, "3 in 30 days");
    Trend none = Trend.of(List.of());
    assertEquals(Trend.Kind.TOO_FEW, none.kind());
    assertTrue(Double.isNaN(none.at(3, 0)));
  }
}
