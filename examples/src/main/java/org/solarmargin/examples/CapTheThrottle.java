package org.solarmargin.examples;

import java.nio.file.Path;
import org.solarmargin.cli.live.Links;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A companion computer that listens to the flight controller and says how far the throttle may go.
 *
 * <p>Expect a line for each alert and each change of the cap by 0.01: 2 % under the ceiling while
 * the margin is known, 1 (no cap) while it is not, as without data. Hand the cap to the flight
 * controller where the line is printed; advisory, not certified.
 */
public final class CapTheThrottle {

  private CapTheThrottle() {}

  /**
   * Runs until the link ends or the thread is interrupted.
   *
   * @param args profile, and link as udp:PORT, udp:ADDRESS:PORT or serial:DEVICE:BAUD
   * @throws Exception if the profile cannot be read or the link cannot be opened
   */
  public static void main(String[] args) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of(args[0]));
    LiveFeed feed = new LiveFeed(craft);
    double told = Double.NaN;
    try (RowSource link = Links.of(craft).open(args[1])) {
      while (!link.ended() && !Thread.currentThread().isInterrupted()) {
        feed.await(link, 50);
        feed.alerts()
            .forEach(a -> System.out.println(a.level() + (a.raised() ? " raised" : " cleared")));
        boolean known = feed.known(LiveFeed.now());
        double cap = known ? 0.98 * feed.monitor().reading().throttleCeiling() : 1;
        if (!(Math.abs(cap - told) < 0.01)) {
          told = cap;
          System.out.printf("%6.1f s  throttle at most %.2f%n", feed.seconds(), cap);
        }
      }
    }
  }
}
