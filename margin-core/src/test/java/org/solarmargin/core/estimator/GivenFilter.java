package org.solarmargin.core.estimator;

import java.nio.ByteBuffer;
import java.util.Arrays;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;

/** A filter whose states and covariance a test sets, and a sample for it. */
final class GivenFilter {

  static final double THROTTLE = 0.5;
  private static final int ROOM = 2000;

  final SolarArray array = TestCraft.SETTINGS.newArray();
  final HiddenStateFilter filter = new HiddenStateFilter(TestCraft.SETTINGS, array);
  final Sample sample = new Sample();

  /** Sigmas so small that an outlier of three sigmas moves the state by a small step. */
  GivenFilter() {
    sample.throttle = THROTTLE;
    sample.voltsVariance = 4e-4;
    sample.ampsVariance = 2.5e-3;
    filter.start(29, 2.7, THROTTLE);
    double[] sd = new double[State.SIZE];
    sd[State.LIGHT] = 5e-4;
    sd[State.CELL] = 0.02;
    sd[State.EMF] = 1e-3;
    sd[State.GUST] = 0.01;
    sd[State.PROPULSION] = 0.02;
    sd[State.WINDING] = 1e-3;
    sd[State.AIR] = 0.5;
    sd[State.VOLTAGE_GAIN] = 1e-5;
    sd[State.CURRENT_OFFSET] = 0.01;
    setSigmas(sd);
  }

  private byte[] written() {
    return WrittenState.bytes(ROOM, filter::write);
  }

  private void read(byte[] room) {
    filter.read(WrittenState.reader(room));
  }

  /** Sets a state, within its bounds. */
  void set(int state, double value) {
    byte[] room = written();
    ByteBuffer.wrap(room).putDouble(Double.BYTES * state, value);
    read(room);
  }

  /** Sets the covariance, the last numbers of the state, to a diagonal one. */
  void setSigmas(double... sd) {
    byte[] room = written();
    // the covariance ends the state, whose length follows from the places in EditedState
    int at = EditedState.UNEVEN - EditedState.FILTER - 4 * State.SIZE * (State.SIZE + 1) / 2;
    ByteBuffer numbers = ByteBuffer.wrap(room);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = i; j < State.SIZE; j++) {
        numbers.putFloat(at, i == j ? (float) (sd[i] * sd[i]) : 0);
        at += Float.BYTES;
      }
    }
    read(room);
  }

  double[] states() {
    double[] x = new double[State.SIZE];
    Arrays.setAll(x, filter::state);
    return x;
  }

  RealMatrix covariance() {
    RealMatrix p = MatrixUtils.createRealMatrix(State.SIZE, State.SIZE);
    for (int i = 0; i < State.SIZE; i++) {
      for (int j = 0; j < State.SIZE; j++) {
        p.setEntry(i, j, filter.covariance().get(i, j));
      }
    }
    return p;
  }

  /** The operating point at the filter's state, on an array of its own. */
  static OperatingPoint solved(double[] x, double throttle) {
    SolarArray own = TestCraft.SETTINGS.newArray();
    OperatingPoint point = new OperatingPoint(own, 3.5);
    TestCraft.move(own, x);
    point.solve(x, throttle);
    point.differentiate(x, throttle, 0, 0);
    return point;
  }
}
