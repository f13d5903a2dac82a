package org.solarmargin.sim.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.CraftProfile;

/** Figures of a trial from outcomes that can be counted by hand. */
class TrialSummaryTest {

  private static final double NONE = Double.NaN;
  private static final Outcome.Voltage NO_ALARMS = new Outcome.Voltage(List.of(), List.of());

  /** Half an hour of ten samples, nine of them covered, with errors of the given size. */
  private static Outcome flight(double loss, double warned, int nuisances, double error) {
    List<Long> sizes = new ArrayList<>(Collections.nCopies(Accuracy.ERROR_CLASSES, 0L));
    sizes.set((int) Math.round(Math.abs(error) / Accuracy.ERROR_STEP), 10L);
    Accuracy accuracy =
        new Accuracy(
            10,
            10 * error * error,
            10 * error,
            sizes,
            15,
            error > 0.05 ? 10 : 0,
            9,
            List.of(
                new Accuracy.Bound(6, 6),
                new Accuracy.Bound(4, 3),
                new Accuracy.Bound(0, 0),
                new Accuracy.Bound(0, 0)),
            new Accuracy.Squares(4, 4 * 0.01),
            new Accuracy.Squares(2, 2 * 0.0004),
            error > 0 ? error : NONE);
    return new Outcome(
        0,
        0,
        false,
        1800,
        new Outcome.Alerts(loss, warned, nuisances, nuisances),
        accuracy,
        new Outcome.KneeSigns(3, 2, 1),
        10 * Math.abs(error),
        NO_ALARMS);
  }

  private static final TrialSummary THREE =
      new TrialSummary(
          List.of(
              flight(100, 20, 1, 0.06), flight(100, NONE, 0, -0.02), flight(NONE, NONE, 2, 0.03)));

  @Test
  void flightsLossesAndWarningsAreCounted() {
    assertEquals(3, THREE.flights());
    assertEquals(1.5, THREE.hours());
    assertEquals(2, THREE.losses());
    assertEquals(1, THREE.missed());
    assertEquals(2, THREE.nuisancesPerHour(), 1e-12);
    assertEquals(List.of(9L, 6L, 3L), THREE.kneeDetections());
    assertFalse(flight(NONE, NONE, 0, 0).missed(), "nothing lost, nothing missed");
  }

  @Test
  void leadsAreThoseOfWarnedLosses() {
    TrialSummary four =
        new TrialSummary(
            List.of(
                flight(100, 9, 0, 0),
                flight(100, 1, 0, 0),
                flight(100, 5, 0, 0),
                flight(100, NONE, 0, 0)));
    assertEquals(1, four.lead(0));
    assertEquals(5, four.lead(0.5));
    assertEquals(9, four.lead(1));
    assertTrue(Double.isNaN(new TrialSummary(List.of(flight(9, NONE, 0, 0))).lead(0.5)));
  }

  @Test
  void errorsAreOfAllSamplesTogether() {
    assertEquals(100 * Math.sqrt((0.0036 + 0.0004 + 0.0009) / 3), THREE.rmsPercent(), 1e-12);
    assertEquals(100 * (0.06 - 0.02 + 0.03) / 3, THREE.biasPercent(), 1e-12);
    assertEquals(100 / 3.0, THREE.optimisticPercent(), 1e-12);
    assertEquals(1.5, THREE.meanInnovation(), 1e-12);
    assertEquals(0.9, THREE.coverage(), 1e-12);
    assertEquals(1, THREE.coverage(0), 1e-12);
    assertEquals(0.75, THREE.coverage(1), 1e-12);
    assertTrue(Double.isNaN(THREE.coverage(2)), "no samples under that load");
    assertEquals(10, THREE.nearRmsPercent(), 1e-12);
    assertEquals(2, THREE.ceilingRmsPercent(), 1e-12);
  }

  /** A class is named by its upper end; 30 stands for all that is larger. */
  @Test
  void errorQuantilesAreClassesOfATenthOfAPercent() {
    assertEquals(2.1, THREE.errorQuantilePercent(0.3), 1e-9);
    assertEquals(3.1, THREE.errorQuantilePercent(0.5), 1e-9);
    assertEquals(6.1, THREE.errorQuantilePercent(1), 1e-9);
    assertEquals(0.1, new TrialSummary(List.of(flight(9, 9, 0, 0))).errorQuantilePercent(0), 1e-9);
    TrialSummary wild = new TrialSummary(List.of(flight(9, 9, 0, 0.299)));
    assertEquals(30, wild.errorQuantilePercent(0.5), 1e-9);
  }

  @Test
  void gapAndHeightAreMediansOverFlights() {
    assertEquals(6, THREE.gapPercent(), 1e-12, "of the two flights under load, the upper one");
    assertEquals(0.3, THREE.heightLost(), 1e-12);
  }

  @Test
  void withoutFlightsThereIsNothingToSay() {
    TrialSummary none = new TrialSummary(List.of());
    assertEquals(0, none.losses());
    for (double figure :
        new double[] {
          none.lead(0.5),
          none.coverage(),
          none.rmsPercent(),
          none.biasPercent(),
          none.meanInnovation(),
          none.optimisticPercent(),
          none.gapPercent(),
          none.heightLost()
        }) {
      assertTrue(Double.isNaN(figure));
    }
  }

  /** A flight with an alarm's lead and nuisances at each of the 61 thresholds. */
  private static Outcome alarmed(double loss, int nuisances, double[][] byThreshold) {
    List<Double> leads = new ArrayList<>(Collections.nCopies(61, NONE));
    List<Integer> counts = new ArrayList<>(Collections.nCopies(61, 0));
    for (double[] one : byThreshold) {
      leads.set((int) one[0], one[1]);
      counts.set((int) one[0], (int) one[2]);
    }
    Outcome plain = flight(loss, 5, nuisances, 0);
    return new Outcome(
        0,
        0,
        false,
        1800,
        plain.alerts(),
        plain.accuracy(),
        plain.knee(),
        0,
        new Outcome.Voltage(leads, counts));
  }

  private static BestVoltage best(Outcome... flights) throws Exception {
    Path stilt = Path.of("..", "examples", "stilt", "stilt.properties");
    return new BestVoltage(CraftProfile.read(stilt), List.of(flights));
  }

  /** Threshold i is (40 + i) % of 48 cells of 0.683 V. */
  @Test
  void theVoltageAlarmThatMissesLeastIsTheBest() throws Exception {
    BestVoltage best =
        best(
            alarmed(100, 1, new double[][] {{10, 3, 0}, {20, 1, 1}, {30, 9, 2}}),
            alarmed(100, 0, new double[][] {{20, 2, 0}, {30, 9, 0}}));
    assertEquals(0.60 * 48 * 0.683, best.volts(), 0.02, "70 % has more nuisances than were borne");
    assertEquals(0, best.missed());
    assertEquals(1, best.lead(0));
    assertEquals(2, best.lead(0.5));
    assertEquals(2, best.lead(1));
    assertEquals(1, best.nuisancesPerHour(), 1e-12);
  }

  @Test
  void amongEqualsTheLongerLeadIsTheBest() throws Exception {
    BestVoltage best =
        best(alarmed(100, 0, new double[][] {{10, 3, 0}, {20, 4, 0}, {30, 2, 0}, {40, 8, 1}}));
    assertEquals(0.60 * 48 * 0.683, best.volts(), 0.02);
    assertEquals(4, best.lead(0.5));
  }

  @Test
  void anAlarmThatNeverStoodHasNoLead() throws Exception {
    BestVoltage best = best(alarmed(100, 0, new double[][] {}));
    assertEquals(1, best.missed());
    assertTrue(Double.isNaN(best.lead(0.5)));
    assertEquals(0, best.nuisancesPerHour());
  }
}
