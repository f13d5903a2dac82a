package org.solarmargin.examples;

import java.nio.file.Path;
import org.solarmargin.cli.live.Links;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A companion computer that receives telemetry from the flight controller and prints the highest
 * throttle allowed.
 *
 * <p>Expect a line for each alert and each change of the cap by 0.01: 2 % below the ceiling while
 * the margin is known, 1 (no cap) while it is not, for example without data. Pass the cap to the
 * flight controller at the place where the line is printed. Advisory, not certified.
 */
public final class CapTheThrottle {

  private CapTheThrottle() {}

  /**
   * Runs until the link ends or the thread is interrupted.
   *
   * @param args profile, and link in the form udp:PORT, udp:ADDRESS:PORT or serial:DEVICE:BAUD
   * @throws Exception if the profile cannot be read or the link cannot be opened
   */
  public static void main(String[] args) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of(args[0]));
    LiveFeed feed = new LiveFeed(craft);
    double printed = Double.NaN;
    try (RowSource link = Links.of(craft).open(args[1])) {
      while (!link.ended() && !Thread.currentThread().isInterrupted()) {
        feed.await(link, 50);
        feed.alerts()
            .forEach(a -> System.out.println(a.level() + (a.raised() ? " raised" : " cleared")));
        boolean known = feed.known(LiveFeed.now());
        double cap = known ? 0.98 * feed.monitor().reading().throttleCeiling() : 1;
        if (!(Math.abs(cap - printed) < 0.01)) {
          printed = cap;
          System.out.printf("%6.1f s  throttle at most %.2f%n", feed.seconds(), cap);
        }
      }
    }
  }
}
