package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.ByteBuffer;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Saved states that cannot be, readings without a value, and the reset. */
class UnevenLightStateTest {

  private final UnevenLightRig rig = new UnevenLightRig();

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 4, 5, 6, 8, 9})
  void numbersWithoutAFiniteSumBeginAnew(int second) {
    byte[] fresh = UnevenLightRig.written(rig.uneven);
    for (double[] pair :
        new double[][] {
          {1e308, 1e308}, {0, Double.MAX_VALUE}, {0, Double.NaN}, {Double.MAX_VALUE, 0}
        }) {
      byte[] room = fresh.clone();
      ByteBuffer.wrap(room).putDouble(UnevenLightRig.OWN_FROM, pair[0]);
      ByteBuffer.wrap(room).putDouble(UnevenLightRig.OWN_FROM + second * Double.BYTES, pair[1]);
      rig.uneven.read(WrittenState.reader(room));
      assertArrayEquals(
          untilReference(fresh),
          untilReference(UnevenLightRig.written(rig.uneven)),
          pair[0] + " and " + pair[1]);
    }
  }

  @Test
  void variancesOfZeroAreAllowedAndNegativeOnesAreNot() {
    byte[] fresh = UnevenLightRig.written(rig.uneven);
    for (int at = 0; at < 2; at++) {
      for (double variance : new double[] {0, -1e-9}) {
        byte[] room = fresh.clone();
        ByteBuffer.wrap(room).putDouble(UnevenLightRig.OWN_FROM + at * Double.BYTES, variance);
        ByteBuffer.wrap(room).putDouble(UnevenLightRig.OWN_FROM + 5 * Double.BYTES, 0.05);
        UnevenLight other = new UnevenLight(UnevenLightRig.SETTINGS);
        other.read(WrittenState.reader(room));
        byte[] expected = untilReference(variance < 0 ? fresh : room);
        assertArrayEquals(
            expected, untilReference(UnevenLightRig.written(other)), at + ": " + variance);
      }
    }
  }

  /** A state without light and temperature before a fall, which the first sample sets. */
  private static byte[] untilReference(byte[] state) {
    return Arrays.copyOf(state, UnevenLight.STATE_BYTES - 3 * Double.BYTES);
  }

  @Test
  void aReadingWithoutAValueBeginsAnew() {
    byte[] fresh = UnevenLightRig.written(rig.uneven);
    for (int i = 0; i < 5; i++) {
      rig.read(0.7, 0, 1, 0.1);
      rig.step(0.3, 0);
    }
    rig.uneven.factors(200, 0.04, 0.98, 0.9);
    rig.sample.volts = Double.NaN;
    rig.uneven.follow(0.1, rig.sample, 0, rig.filter);
    assertArrayEquals(untilReference(fresh), untilReference(UnevenLightRig.written(rig.uneven)));
    assertEquals(1, rig.uneven.factors(200, 0.04, 0.98, 0.9).bound());
  }

  @Test
  void aResetLeavesNothingBehind() {
    byte[] fresh = UnevenLightRig.written(rig.uneven);
    for (int i = 0; i < 5; i++) {
      rig.read(0.6 + 0.05 * i, 8, 0.8, 0.1);
      rig.step(0.13, 0);
    }
    rig.uneven.reset();
    assertArrayEquals(untilReference(fresh), untilReference(UnevenLightRig.written(rig.uneven)));
  }
}
