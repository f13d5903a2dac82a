package org.solarmargin.sim.flight;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.air.CoolingGusts;
import org.solarmargin.sim.air.SingleGust;
import org.solarmargin.sim.air.StandardAtmosphere;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.array.SimCell;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.craft.Propulsion;
import org.solarmargin.sim.heat.CellHeat;
import org.solarmargin.sim.sensor.ChannelErrors;
import org.solarmargin.sim.sensor.ReadingFaults;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.Sky;
import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.ReadingTiming;

class FlightTest {

  private static final SimCell CELL =
      SimCell.of(new DataSheet(6.02, 0.683, 5.70, 0.574, 0.0005, -0.0029).toParameters());
  private static final double NEVER = Double.POSITIVE_INFINITY;
  private static final Airframe FRAME =
      new Airframe(1.6, 4, 0.5588, 0.1, 0.62, 0.5, 29, 0.06, 0.07, 0.93, 0.12, 3.5, 9);
  private static final SensorErrors SENSORS =
      new SensorErrors(
          new ChannelErrors(1, 0, 0.02, ReadingTiming.IMMEDIATE, 0.008),
          new ChannelErrors(1, 0, 0.05, ReadingTiming.IMMEDIATE, 0.01),
          ReadingFaults.NONE);

  private static FlightSetup setup(Sky sky, FlightPlan plan, double wind20, Airframe frame) {
    return new FlightSetup(
        ArrayLayout.uniform(CELL, 48, 1),
        NEVER,
        frame,
        CommandTiming.IMMEDIATE,
        plan,
        sky,
        new Air(22, 0, 2, wind20, 4, SingleGust.NONE, CoolingGusts.NONE),
        SENSORS,
        LogSpec.plain(50));
  }

  private static FlightPlan hover(double seconds) {
    return new FlightPlan(List.of(new FlightPlan.Leg(10, seconds)));
  }

  private static List<double[]> fly(FlightSetup setup, double step) {
    List<double[]> rows = new ArrayList<>();
    new Flight(setup, 1, step)
        .fly(
            s -> {
              rows.add(
                  new double[] {
                    s.seconds,
                    s.trueVolts,
                    s.demandWatts,
                    s.throttle,
                    s.heightMetres,
                    s.availableWatts,
                    s.peakVolts,
                    s.ceiling,
                    s.busVolts
                  });
              return 1;
            });
    return rows;
  }

  @Test
  void theSameSeedGivesTheSameBits() {
    FlightSetup setup = setup(t -> 0.95, hover(20), 5, FRAME);
    List<double[]> a = fly(setup, 0.005);
    List<double[]> b = fly(setup, 0.005);
    assertEquals(a.size(), b.size());
    for (int i = 0; i < a.size(); i++) {
      assertArrayEquals(a.get(i), b.get(i), "sample " + i);
    }
  }

  /** Gusts of 4 m/s about the mean of 6 m/s change the cell temperature by kelvins within 40 s. */
  @Test
  void gustyCoolingWindChangesThePowerInSteadyLight() {
    FlightSetup steady = setup(t -> 0.95, hover(100), 1, FRAME);
    FlightSetup gusty =
        new FlightSetup(
            steady.layout(),
            NEVER,
            FRAME,
            CommandTiming.IMMEDIATE,
            hover(100),
            steady.sky(),
            steady.air().withCooling(new CoolingGusts(4, 40, 0)),
            SENSORS,
            LogSpec.plain(50));
    assertTrue(swing(fly(steady, 0.005)) < 0.01, "steady wind, steady power");
    double swing = swing(fly(gusty, 0.005));
    assertTrue(swing > 0.02 && swing < 0.1, "swing of the available power: " + swing);
  }

  /** Ratio of largest to least available power from the fiftieth second on, minus 1. */
  private static double swing(List<double[]> rows) {
    double least = Double.POSITIVE_INFINITY;
    double most = 0;
    for (double[] row : rows.subList(2500, rows.size())) {
      least = Math.min(least, row[5]);
      most = Math.max(most, row[5]);
    }
    return most / least - 1;
  }

  /** The power of hover changes by less than half a percent when the step is halved. */
  @Test
  void halvingTheStepChangesAlmostNothing() {
    FlightSetup setup = setup(t -> 0.95, hover(40), 4, FRAME);
    List<double[]> whole = fly(setup, 0.005);
    List<double[]> half = fly(setup, 0.0025);
    double[] mean = new double[2];
    for (int i = 500; i < whole.size(); i++) {
      mean[0] += whole.get(i)[2];
      mean[1] += half.get(i)[2];
      assertEquals(whole.get(i)[5], half.get(i)[5], 1e-3 * whole.get(i)[5], "available power");
      assertEquals(whole.get(i)[4], half.get(i)[4], 0.05, "height");
    }
    assertEquals(mean[0], mean[1], 0.005 * mean[0]);
  }

  @Test
  void aSlowFadeEndsAtFullThrottlePastTheKnee() {
    List<double[]> rows =
        fly(setup(t -> Math.max(0.95 - 0.008 * t, 0.3), hover(100), 0.5, FRAME), 0.005);
    int past = 0;
    double throttle = 0;
    boolean seen = false;
    for (double[] row : rows) {
      boolean beyond = row[1] < 0.85 * row[6] && row[4] > 0.5;
      seen |= beyond;
      past += beyond ? 1 : 0;
      throttle = beyond ? Math.max(throttle, row[3]) : throttle;
    }
    assertTrue(seen && past > 50, "past the knee: " + past);
    assertTrue(throttle > 0.95, "the height control opens the throttle: " + throttle);
  }

  @Test
  void holdingTheTrueCeilingTurnsTheLossIntoASlowDescent() {
    FlightSetup setup = setup(t -> Math.max(0.95 - 0.008 * t, 0.3), hover(100), 0.5, FRAME);
    int[] past = {0};
    double[] worst = {0};
    double[] last = {10};
    new Flight(setup, 1)
        .fly(
            s -> {
              boolean airborne = s.heightMetres > 0.5;
              past[0] += airborne && s.trueVolts < 0.9 * s.peakVolts ? 1 : 0;
              worst[0] = airborne ? Math.max(worst[0], (last[0] - s.heightMetres) * 50) : worst[0];
              last[0] = s.heightMetres;
              return 0.98 * s.ceiling;
            });
    assertEquals(0, past[0]);
    assertTrue(worst[0] < 4, "sinks at " + worst[0] + " m/s");
  }

  @Test
  void spinUpFromRestBrownsOutTheBusIfTheThrottleJumps() {
    FlightSetup lit = setup(t -> 0.35, hover(1), 0, FRAME);
    SimArray array = new SimArray(lit.layout());
    array.set(0.35, 298.15);
    BusSolver bus = new BusSolver(array, new Propulsion(FRAME), 3.5);
    bus.solve(0.06);
    double idle = bus.volts();
    bus.solve(0.5);
    assertTrue(idle > 28, "idle " + idle);
    assertTrue(
        bus.volts() < FRAME.brownoutVolts(), "inrush reduces the bus voltage to " + bus.volts());
  }

  @Test
  void aMissionTakesOffAndLands() {
    FlightPlan plan =
        new FlightPlan(
            List.of(
                new FlightPlan.Leg(0, 4), new FlightPlan.Leg(8, 20), new FlightPlan.Leg(0, 20)));
    List<double[]> rows = fly(setup(t -> 1.0, plan, 2, FRAME), 0.005);
    assertEquals(0, rows.get(100)[4]);
    assertEquals(8, rows.get(23 * 50)[4], 0.5);
    assertEquals(0, rows.get(rows.size() - 1)[4]);
    assertEquals(HeightLoop.IDLE_THROTTLE, rows.get(rows.size() - 1)[3], 1e-9);
  }

  /** In steady hover the thrust equals the weight, and the power follows from momentum theory. */
  @Test
  void thePowerBalanceOfASteadyHoverHolds() {
    FlightSetup setup = setup(t -> 0.95, hover(30), 0, FRAME);
    List<double[]> rows = fly(setup, 0.005);
    double demand = 0;
    double climb = 0;
    int n = 0;
    for (double[] row : rows.subList(750, rows.size())) {
      demand += row[2];
      climb += row[4];
      n++;
    }
    double expected =
        new Propulsion(FRAME)
                .steadyWatts(FRAME.weightNewtons(), StandardAtmosphere.density(0, 22), 2)
            + FRAME.housekeepingWatts();
    assertEquals(10, climb / n, 0.1);
    assertEquals(expected, demand / n, 0.03 * expected);
  }

  @Test
  void cellsWarmLikeThePublishedLumpedModels() {
    // 160 um wafer and two films: 13 s at 32 W/m2/K (check values), 25 K over air at 28 W/m2/K
    assertEquals(13, CellHeat.lag(22.0 / 3), 0.5);
    assertEquals(47, CellHeat.steady(1, 22, 6), 1e-9);
    assertTrue(CellHeat.steady(1, 22, 0) > 60, "tens of kelvin in still air");
    CellHeat heat = new CellHeat();
    heat.step(0.02, 0.2, 22, 6);
    double warm = 0;
    for (int i = 0; i < 3000; i++) {
      warm = heat.step(0.02, 1, 22, 6);
    }
    assertEquals(47, warm, 0.5);
  }

  /** Two strings in half the light each; one breaks off at ten seconds. */
  @Test
  void aLostStringHalvesTheAvailablePower() {
    FlightSetup whole = setup(t -> 0.95, hover(20), 0, FRAME);
    FlightSetup broken =
        new FlightSetup(
            ArrayLayout.uniform(CELL, 48, 2),
            10,
            whole.airframe(),
            whole.command(),
            whole.plan(),
            whole.sky(),
            whole.air(),
            whole.sensors(),
            whole.log());
    List<double[]> rows = fly(broken, 0.005);
    double before = rows.get(499)[5];
    assertEquals(before / 2, rows.get(501)[5], 0.001 * before);
    assertEquals(before / 2, rows.get(rows.size() - 1)[5], 0.02 * before);
  }

  @Test
  void onATetherTheThrottleIsTheRampsAndNothingRises() {
    FlightPlan plan =
        new FlightPlan(List.of(new FlightPlan.Leg(0, 16)), new ThrottleRamp(2, 10, 0.7));
    List<double[]> rows = fly(setup(t -> 0.95, plan, 2, FRAME), 0.005);
    for (double[] row : rows) {
      assertEquals(0, row[4], "height at " + row[0]);
    }
    double idle = HeightLoop.IDLE_THROTTLE;
    assertEquals(idle, rows.get(50)[3], 1e-9);
    assertEquals((idle + 0.7) / 2, rows.get(7 * 50)[3], 0.01);
    assertEquals(0.7, rows.get(12 * 50)[3], 0.01);
    assertEquals(idle, rows.get(15 * 50)[3], 1e-9);
    assertTrue(rows.get(12 * 50)[2] > 100, "power at the top: " + rows.get(12 * 50)[2]);
  }

  /** A cap held for long does not wind the loop up: it answers as soon as the cap is gone. */
  @Test
  void theHeightLoopDoesNotWindUp() {
    HeightLoop loop = new HeightLoop(0.5, 0.5);
    for (int i = 0; i < 3000; i++) {
      assertTrue(loop.step(0.02, 10, 5, 0, 0.4) <= 0.5);
    }
    double back = 1;
    for (int i = 0; i < 25; i++) {
      back = loop.step(0.02, 10, 10, 0, 1);
    }
    assertEquals(0.5, back, 0.02, "at the wanted height the throttle is the trim again");
    for (int i = 0; i < 3000; i++) {
      loop.step(0.02, 0, 100, 0, 1);
    }
    for (int i = 0; i < 25; i++) {
      back = loop.step(0.02, 10, 10, 0, 1);
    }
    assertTrue(back > 0, "nor does it wind down: " + back);
  }
}
