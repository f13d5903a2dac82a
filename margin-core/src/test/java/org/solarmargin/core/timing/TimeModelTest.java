package org.solarmargin.core.timing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TimeModelTest {

  @ParameterizedTest
  @CsvSource({
    "-0.1, 0, 0, 0, 'filterSeconds must be in [0, 3.0]: -0.1'",
    "3.1, 0, 0, 0, 'filterSeconds must be in [0, 3.0]: 3.1'",
    "0, 0.6, 0, 0, 'delaySeconds must be in [0, 0.5]: 0.6'",
    "0, 0, 2.1, 0, 'periodSeconds must be in [0, 2.0]: 2.1'",
    "0, 0, 0, NaN, 'roundingStep must be in [0, 10.0]: NaN'"
  })
  void aChannelOutOfRangeIsRefused(
      double filter, double delay, double period, double step, String message) {
    assertEquals(
        message,
        assertThrows(
                IllegalArgumentException.class,
                () -> new ChannelTiming(filter, delay, period, step))
            .getMessage());
  }

  private static TimeModel command(double lag, double delay) {
    ChannelTiming volts = new ChannelTiming(0.3, 0.1, 0, 0);
    ChannelTiming amps = new ChannelTiming(0.2, 0, 0.1, 0.01);
    return new TimeModel(volts, amps, lag, delay, true, TimeModel.Source.FOUND);
  }

  @ParameterizedTest
  @CsvSource({
    "-0.1, 0, 'commandLagSeconds must be in [0, 1.0]: -0.1'",
    "1.1, 0, 'commandLagSeconds must be in [0, 1.0]: 1.1'",
    "0, 0.6, 'commandDelaySeconds must be in [0, 0.5]: 0.6'"
  })
  void aCommandOutOfRangeIsRefused(double lag, double delay, String message) {
    assertEquals(
        message,
        assertThrows(IllegalArgumentException.class, () -> command(lag, delay)).getMessage());
  }

  @Test
  void aCommonFilterIsRemovedWithTheThrottle() {
    TimeModel model = command(1, 0.5).withoutThrottle();
    assertEquals(0.1, model.volts().filterSeconds(), 1e-12);
    assertEquals(0, model.amps().filterSeconds(), 1e-12);
    assertEquals(0.1, model.volts().delaySeconds(), 0);
    assertEquals(0.1, model.amps().periodSeconds(), 0);
    assertFalse(model.throttleUsed());
    assertTrue(model.known());
    assertEquals(0.3, command(0, 0).longestFilterSeconds(), 0);
    assertFalse(TimeModel.UNKNOWN.known());
  }

  @Test
  void theLimitsThemselvesAreAllowed() {
    assertEquals(3, new ChannelTiming(3, 0.5, 2, 10).filterSeconds());
    assertEquals(1, command(1, 0.5).commandLagSeconds());
  }
}
