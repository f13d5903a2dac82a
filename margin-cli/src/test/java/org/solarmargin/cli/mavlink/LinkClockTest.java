package org.solarmargin.cli.mavlink;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;

class LinkClockTest {

  private final LinkClock clock = new LinkClock();

  @Test
  void beforeAnyStampTheLocalClockIsUsed() {
    assertEquals(12.5, clock.unstamped(12.5));
  }

  @Test
  void theSmallestLagIsAttributedToTheLink() {
    Random random = new Random(1);
    for (int i = 0; i < 1000; i++) {
      double boot = 0.04 * i;
      double late = 0.02 + 0.15 * random.nextDouble();
      assertEquals(boot, clock.stamped(boot, 500 + boot + late));
    }
    // a message that is sent at 40 s and arrives 0.02 s later
    assertEquals(40, clock.unstamped(540.02), 0.01);
  }

  @Test
  void timeContinuesAfterARestartOfTheBootClock() {
    for (int i = 0; i < 100; i++) {
      clock.stamped(100 + 0.1 * i, 500 + 0.1 * i);
    }
    double after = clock.stamped(0.5, 520);
    assertEquals(120, after, 0.01, "twenty seconds after the first stamp");
    assertEquals(after + 0.1, clock.stamped(0.6, 520.1), 1e-9);
  }

  /**
   * Every stamp is 0.1 s late; the receiver's clock is set an hour ahead after 10 s, in which it
   * may drift by 0.36 s.
   */
  @Test
  void aReceiversClockThatIsSetAheadIsNoLagOnceThreeStampsAgree() {
    for (int i = 0; i <= 100; i++) {
      clock.stamped(0.1 * i, 500.1 + 0.1 * i);
    }
    clock.stamped(10.1, 4110.2);
    clock.stamped(10.2, 4110.3);
    assertEquals(3610.2, clock.unstamped(4110.3), 0.4, "two may have been held up");
    clock.stamped(10.3, 510.4);
    clock.stamped(10.4, 4110.5);
    clock.stamped(10.5, 4110.6);
    assertEquals(3610.5, clock.unstamped(4110.6), 0.4, "two again");
    assertEquals(10.6, clock.stamped(10.6, 4110.7), 1e-9);
    assertEquals(10.65, clock.unstamped(4110.75), 0.01);
  }

  @Test
  void aLateStampIsNotARestart() {
    clock.stamped(50, 550);
    clock.stamped(51, 551);
    assertEquals(50.5, clock.stamped(50.5, 551.1));
    assertTrue(clock.unstamped(552) <= 52.001);
  }
}
