package org.solarmargin.core.estimator;

import java.nio.ByteBuffer;
import java.util.Arrays;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.state.StateBytes;

/**
 * {@link UnevenLight} and {@link ShadowModel} side by side, on samples and filter states that a
 * test sets.
 */
final class UnevenLightRig {

  static final int LENGTH = UnevenLight.STATE_BYTES + StateBytes.TAIL;
  private static final int OWN = 11;
  static final int OWN_FROM = UnevenLight.STATE_BYTES - OWN * Double.BYTES;

  /** Two strings of cells without a shunt, whose voltage is a closed form. */
  static final EstimatorSettings SETTINGS = twoStrings();

  final HiddenStateFilter filter = new HiddenStateFilter(SETTINGS, SETTINGS.newArray());
  final UnevenLight uneven = new UnevenLight(SETTINGS);
  final ShadowModel model = new ShadowModel(SETTINGS);
  private final ShadowModel truth = new ShadowModel(SETTINGS);
  final Sample sample = new Sample();

  private static EstimatorSettings twoStrings() {
    EstimatorSettings craft = TestCraft.SETTINGS;
    CellParameters c = craft.cell();
    CellParameters cell =
        new CellParameters(
            c.photocurrentAmps(),
            c.saturationAmps(),
            c.ideality(),
            c.seriesOhms(),
            Double.POSITIVE_INFINITY,
            c.photocurrentTempCoeffPerKelvin(),
            c.vocTempCoeffPerKelvin(),
            c.benchCelsius());
    return new EstimatorSettings(
        cell,
        craft.cellSpread(),
        40,
        2,
        craft.thermal(),
        craft.rotor(),
        craft.sensors(),
        craft.timing());
  }

  UnevenLightRig() {
    sample.voltsVariance = 4e-4;
    sample.voltsReadout = 1e-4;
    sample.ampsVariance = 2.5e-3;
    sample.ampsReadout = 5e-4;
    filter.start(24, 8, 0.5);
    setState(State.VOLTAGE_GAIN, 0.01);
    setState(State.CURRENT_GAIN, -0.02);
    setState(State.CURRENT_OFFSET, 0.1);
    setState(State.SERIES, 0.2);
    setState(State.IDEALITY, 0.03);
    setState(State.VOC_COEFF, 2e-4);
    setState(State.CELL, 48);
    setState(State.LIGHT, Math.log(0.9));
  }

  /** Sets a state of the filter, within its bounds. */
  void setState(int state, double value) {
    byte[] room = WrittenState.bytes(2000, filter::write);
    ByteBuffer.wrap(room).putDouble(Double.BYTES * state, value);
    filter.read(WrittenState.reader(room));
  }

  /**
   * Sets the readings to those of a string with dim cells, whose current is a share of the light's.
   */
  void read(double part, int dimCells, double light, double error) {
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, filter::state);
    TestCraft.move(truth.array, x);
    double amps = part * truth.curve().photocurrentAmps();
    sample.volts = (truth.volts(amps, dimCells, light) + error) * 1.01;
    sample.amps = 2 * amps * 0.98 + 0.1;
  }

  /** One sample for both. */
  void step(double seconds, double lag) {
    uneven.follow(seconds, sample, lag, filter);
    model.follow(seconds, sample, lag, filter);
  }

  static byte[] written(UnevenLight of) {
    return WrittenState.bytes(UnevenLight.STATE_BYTES, of::write);
  }

  /** The last numbers of the saved state, which are not those of parts. */
  double[] ownNumbers() {
    double[] own = new double[OWN];
    ByteBuffer.wrap(written(uneven), OWN_FROM, OWN * Double.BYTES).asDoubleBuffer().get(own);
    return own;
  }
}
