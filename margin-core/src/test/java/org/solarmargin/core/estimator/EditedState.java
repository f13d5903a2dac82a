package org.solarmargin.core.estimator;

import java.nio.ByteBuffer;
import java.util.zip.CRC32;
import org.solarmargin.core.state.StateBytes;

/** A saved state of {@link MarginEstimator} of which a test changes single numbers. */
final class EditedState {

  static final int FLIGHT_SECONDS = 32;
  static final int STEADY_DEMAND = 40;
  static final int FILTER = 48;
  static final int UNEVEN = FILTER + filterBytes();
  static final int EVEN_SECONDS = UNEVEN + UnevenLight.STATE_BYTES - Double.BYTES;
  private static final int COVARIANCES = State.SIZE * (State.SIZE + 1) / 2;
  private static final int SHADOW_WEIGHT = UNEVEN + ShadowMixture.STATE_BYTES - Double.BYTES;

  /** Where {@link UnevenLight} says whether it has had a sample, before its last three numbers. */
  private static final int UNEVEN_STARTED = UNEVEN + UnevenLight.STATE_BYTES - 4 * Double.BYTES;

  /** {@link CoolingWatch}'s mean and mean square, behind the states and the instruments. */
  private static final int AIR_MEAN = FILTER + (State.SIZE + 3) * Double.BYTES;

  final byte[] bytes = new byte[MarginEstimator.STATE_BYTES];
  private final ByteBuffer numbers = ByteBuffer.wrap(bytes);

  /** The present state of an estimator. */
  EditedState(MarginEstimator of) {
    of.save(bytes);
  }

  /** Length of a filter's state, from a number written behind it. */
  private static int filterBytes() {
    byte[] room = new byte[2 * MarginEstimator.STATE_BYTES];
    StateBytes bytes = new StateBytes(room.length);
    bytes.startWriting(room, 0);
    EstimatorSettings settings = TestCraft.SETTINGS;
    new HiddenStateFilter(settings, settings.newArray()).write(bytes);
    bytes.put(Double.MAX_VALUE);
    ByteBuffer written = ByteBuffer.wrap(room);
    int at = 0;
    while (written.getDouble(at) != Double.MAX_VALUE) {
      at += Float.BYTES;
    }
    return at;
  }

  double get(int at) {
    return numbers.getDouble(at);
  }

  boolean unevenStarted() {
    return get(UNEVEN_STARTED) != 0;
  }

  EditedState set(int at, double value) {
    numbers.putDouble(at, value);
    return sealed();
  }

  /** Sets a covariance of the filter's states, i not after j. */
  EditedState setCovariance(int i, int j, double value) {
    int before = i * State.SIZE - i * (i - 1) / 2 + (j - i);
    numbers.putFloat(UNEVEN + Float.BYTES * (before - COVARIANCES), (float) value);
    return sealed();
  }

  /** Sets the air to its mean and the root mean square of its departures, K. */
  EditedState setAirDeparture(double kelvin) {
    set(AIR_MEAN, get(FILTER + State.AIR * Double.BYTES));
    return set(AIR_MEAN + Double.BYTES, kelvin * kelvin);
  }

  /** Sets the probability of a shadow and the factors that follow from it. */
  EditedState setShadow(
      double probability, double estimate, double bound, double alertBound, double ceilingBound) {
    set(SHADOW_WEIGHT, probability);
    double[] factors = {estimate, bound, alertBound, ceilingBound};
    for (int i = 0; i < factors.length; i++) {
      set(UNEVEN + ShadowMixture.STATE_BYTES + i * Double.BYTES, factors[i]);
    }
    return this;
  }

  private EditedState sealed() {
    CRC32 crc = new CRC32();
    crc.update(bytes, 0, bytes.length - StateBytes.TAIL);
    numbers.putInt(bytes.length - StateBytes.TAIL, (int) crc.getValue());
    return this;
  }
}
