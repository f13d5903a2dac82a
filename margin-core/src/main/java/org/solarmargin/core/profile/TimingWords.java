package org.solarmargin.core.profile;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.timing.TimeModel;

/**
 * A time model as text, and as the profile lines that state it. Each call allocates a new text, so
 * it is for a status line and not for every sample.
 */
public final class TimingWords {

  /** Shorter times are not mentioned, s. */
  private static final double LEAST_SECONDS = 0.01;

  private static final String LEFT_OUT =
      "readings and throttle do not match in time: the throttle is not used, and the interval is"
          + " wide";

  /** For a live monitor, whose estimate is less accurate with a model found in flight. */
  private static final String STATE_NONE =
      "; state it (sensor.voltage_delay_s = 0), and live estimates are sharp from take-off on";

  private TimingWords() {}

  /**
   * One sentence for a status line of a live monitor.
   *
   * @param status origin of the time model
   * @param model the time model in use
   * @return never empty, without a full stop
   */
  public static String of(TimingStatus status, TimeModel model) {
    return switch (status) {
      case STATED -> stated(model);
      case SEARCHING ->
          "the time model of the readings has not been found yet: the throttle is not used, and the"
              + " interval is wide";
      case FOUND -> found(model, model) + (faults(model).isEmpty() ? STATE_NONE : "");
      case LEFT_OUT -> LEFT_OUT;
    };
  }

  private static String stated(TimeModel model) {
    String faults = faults(model);
    return "time model as stated in the profile: "
        + (faults.isEmpty() ? "readings and throttle belong to the same instant" : faults);
  }

  /**
   * The time model found from the readings of a craft whose profile states none.
   *
   * @param found the most likely time model
   * @param used the time model in use, which may be a more cautious one
   * @return one sentence, never empty, without a full stop
   */
  public static String found(TimeModel found, TimeModel used) {
    if (!used.throttleUsed()) {
      return LEFT_OUT;
    }
    String faults = faults(found);
    if (faults.isEmpty()) {
      return "readings and throttle belong to the same instant";
    }
    return faults
        + "; the profile does not state this, but it is taken into account. State it as "
        + lines(found);
  }

  private static String faults(TimeModel model) {
    List<String> what = new ArrayList<>();
    double volts = model.volts().filterSeconds();
    double amps = model.amps().filterSeconds();
    if (Math.abs(volts - amps) < LEAST_SECONDS && volts >= LEAST_SECONDS) {
      what.add(text("readings filtered, about %.2f s", volts));
    } else {
      add(what, "voltage filtered, about %.2f s", volts);
      add(what, "current filtered, about %.2f s", amps);
    }
    add(what, "voltage %.2f s later than current", model.volts().delaySeconds());
    add(what, "current %.2f s later than voltage", model.amps().delaySeconds());
    add(what, "throttle takes effect %.2f s after it is logged", model.commandDelaySeconds());
    add(what, "motors follow the command with a lag of %.2f s", model.commandLagSeconds());
    return String.join("; ", what);
  }

  /**
   * The profile lines that state a time model; times below 0.01 s are omitted.
   *
   * @param model found or stated
   * @return key and value pairs, separated by commas; empty if there is nothing to state
   */
  public static String lines(TimeModel model) {
    List<String> lines = new ArrayList<>();
    add(lines, "sensor.voltage_filter_s = %.2f", model.volts().filterSeconds());
    add(lines, "sensor.current_filter_s = %.2f", model.amps().filterSeconds());
    add(lines, "sensor.voltage_delay_s = %.2f", model.volts().delaySeconds());
    add(lines, "sensor.current_delay_s = %.2f", model.amps().delaySeconds());
    add(lines, "rotor.command_delay_s = %.2f", model.commandDelaySeconds());
    add(lines, "rotor.command_lag_s = %.2f", model.commandLagSeconds());
    return String.join(", ", lines);
  }

  private static void add(List<String> to, String format, double seconds) {
    if (seconds >= LEAST_SECONDS) {
      to.add(text(format, seconds));
    }
  }

  private static String text(String format, double value) {
    return String.format(Locale.ROOT, format, value);
  }
}
