package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.timing.TimeModel;

/** A craft for tests: 48 back-contact cells in series. */
public final class TestCraft {

  /** The estimator's settings. */
  public static final EstimatorSettings SETTINGS =
      new EstimatorSettings(
          new DataSheet(6.02, 0.683, 5.70, 0.574, 0.0005, -0.0029).toParameters(),
          EstimatorSettings.CellSpread.DEFAULT,
          48,
          1,
          new EstimatorSettings.Thermal(22, 25, 15),
          new EstimatorSettings.Rotor(0.5, 78, 29, true, 3.5),
          new EstimatorSettings.Sensors(0.02, 0.05, 0.005, 0.015, 0.05),
          TimeModel.SIMULTANEOUS);

  private TestCraft() {}

  /** Sets an array's curve to a state. */
  static void move(SolarArray array, double[] x) {
    array
        .curve()
        .setAltered(
            Math.exp(x[State.LIGHT]),
            x[State.CELL],
            Math.exp(x[State.SERIES]),
            Math.exp(x[State.IDEALITY]),
            x[State.VOC_COEFF]);
  }
}
