package org.solarmargin.cli.watch;

import org.solarmargin.core.profile.LogSources;
import picocli.CommandLine.Option;

/** Options that choose the messages of a link, in place of the profile's {@code link.*} keys. */
final class LinkOption {

  @Option(
      names = "--bus",
      paramLabel = "MESSAGE",
      description =
          "message with the bus readings: BATTERY_STATUS or SYS_STATUS (default: the profile's"
              + " link.bus_message)")
  private LogSources.Bus bus;

  @Option(
      names = "--throttle",
      paramLabel = "MESSAGE",
      description =
          "message with the throttle: SERVO_OUTPUT_RAW (mean of the motors, 1000 to 2000 us),"
              + " ACTUATOR_OUTPUT_STATUS (mean of the motors) or VFR_HUD (percent) (default: the"
              + " profile's link.throttle_message)")
  private LogSources.Throttle throttle;

  @Option(
      names = "--system",
      paramLabel = "ID",
      description =
          "the only system that is accepted; 0 for any (default: the profile's link.system_id, else"
              + " 1)")
  private Integer system;

  @Option(
      names = "--component",
      paramLabel = "ID",
      description =
          "the only component that is accepted; 0 for any (default: the profile's"
              + " link.component_id, else any)")
  private Integer component;

  /** The profile's choice, changed by the options. */
  LogSources of(LogSources profile) {
    return new LogSources(
        profile.columns(),
        bus == null ? profile.bus() : bus,
        throttle == null ? profile.throttle() : throttle,
        profile.firstOutput(),
        system == null ? profile.system() : system,
        component == null ? profile.component() : component);
  }
}
