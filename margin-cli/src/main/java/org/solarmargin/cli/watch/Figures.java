package org.solarmargin.cli.watch;

import com.google.gson.JsonObject;
import java.util.Locale;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.monitor.MarginMonitor;

/**
 * The figures shown for one instant; NaN where there is nothing to show.
 *
 * @param seconds time of the flight, s
 * @param state status of the estimate, or NO_DATA
 * @param marginPercent margin, percent of the demand; never above 0 past the knee, where the demand
 *     falls with the bus voltage and there is no margin
 * @param lowPercent lower bound of the margin, percent of the demand; never above 0 past the knee
 * @param availableWatts estimate of the available power, W
 * @param lowWatts its lower bound, W
 * @param demandWatts demand, W
 * @param liftGrams additional mass that the craft could hold, g
 * @param lowLiftGrams the same from the lower bound, g
 * @param throttle last command, 0 to 1
 * @param ceiling throttle ceiling, 0 to 1
 * @param age age of the newest reading, s
 * @param level the highest active alert
 */
record Figures(
    double seconds,
    String state,
    double marginPercent,
    double lowPercent,
    double availableWatts,
    double lowWatts,
    double demandWatts,
    double liftGrams,
    double lowLiftGrams,
    double throttle,
    double ceiling,
    double age,
    AlertLevel level) {

  /** What the display can show. */
  enum Kind {
    NO_DATA,
    NO_MARGIN,
    MARGIN,
    PAST_KNEE
  }

  /** The state while there is no reading recent enough to show. */
  static final String NO_DATA = "NO_DATA";

  static Figures of(LiveFeed feed, double throttle, double kilograms, double local) {
    MarginMonitor monitor = feed.monitor();
    MarginReading reading = monitor.reading();
    boolean known = feed.known(local);
    double demand = reading.steadyDemandWatts();
    double available = known ? reading.availableWatts() : Double.NaN;
    double low = known ? reading.availableLowWatts() : Double.NaN;
    double most = reading.status() == Status.PAST_KNEE ? 1 : Double.POSITIVE_INFINITY;
    double ratio = Math.min(available / demand, most);
    double lowRatio = Math.min(low / demand, most);
    return new Figures(
        feed.seconds(),
        feed.stale(local) ? NO_DATA : reading.status().name(),
        100 * (ratio - 1),
        100 * (lowRatio - 1),
        available,
        low,
        known ? demand : Double.NaN,
        lift(ratio, kilograms),
        lift(lowRatio, kilograms),
        throttle,
        known ? reading.throttleCeiling() : Double.NaN,
        feed.age(local),
        monitor.level());
  }

  /** Additional lift, g; thrust is proportional to power to the 2/3 (momentum theory). */
  private static double lift(double ratio, double kilograms) {
    return 1000 * kilograms * (Math.cbrt(ratio * ratio) - 1);
  }

  /** Whether there is no reading recent enough to show. */
  boolean noData() {
    return state.equals(NO_DATA);
  }

  /** What the display shows. */
  Kind kind() {
    if (state.equals(Status.PAST_KNEE.name())) {
      return Kind.PAST_KNEE;
    }
    if (Double.isNaN(availableWatts)) {
      return noData() ? Kind.NO_DATA : Kind.NO_MARGIN;
    }
    return Kind.MARGIN;
  }

  /** The highest active alert; empty if there is none. */
  String levelWord() {
    return level == AlertLevel.NONE ? "" : level.name();
  }

  /** One line for a terminal. */
  String line() {
    return switch (kind()) {
      case PAST_KNEE -> pastKnee();
      case NO_DATA, NO_MARGIN -> noMargin();
      case MARGIN -> margin();
    };
  }

  /** The same as {@link #line} in 62 columns, the most important first. */
  String shortLine() {
    if (kind() != Kind.MARGIN) {
      return line().strip();
    }
    return String.format(
        Locale.ROOT,
        "%s%+.0f %% (%+.0f)  %.2f of %.2f  %s%.1f s  %s",
        levelWord().isEmpty() ? "" : levelWord() + " ",
        marginPercent,
        lowPercent,
        throttle,
        ceiling,
        Double.isNaN(liftGrams)
            ? ""
            : String.format(Locale.ROOT, "%+.0f g (%+.0f)  ", liftGrams, lowLiftGrams),
        age,
        state);
  }

  private String pastKnee() {
    // readings of a wrong unit or array may give a ceiling above the present throttle
    return String.format(
        Locale.ROOT,
        "%-8s PAST THE KNEE: CLOSE the throttle %s %.2f (now %.2f)  %.1f s old",
        level,
        ceiling < throttle ? "to" : "below",
        Math.min(ceiling, throttle),
        throttle,
        age);
  }

  private String noMargin() {
    return String.format(
        Locale.ROOT,
        "%-8s no margin: %s%s",
        levelWord(),
        noData() ? "NO DATA" : state,
        Double.isNaN(age) ? "" : String.format(Locale.ROOT, ", last data %.1f s old", age));
  }

  private String margin() {
    return String.format(
        Locale.ROOT,
        "%-8s margin %+4.0f %% (at least %+4.0f %%)  %s throttle %.2f of %.2f  %.1f s old  %s",
        levelWord(),
        marginPercent,
        lowPercent,
        Double.isNaN(liftGrams)
            ? ""
            : String.format(Locale.ROOT, "lift %+.0f g (%+.0f)", liftGrams, lowLiftGrams),
        throttle,
        ceiling,
        age,
        state);
  }

  /** One object for programs; unknown values are left out. */
  JsonObject json() {
    JsonObject json = new JsonObject();
    add(json, "time_s", seconds);
    json.addProperty("state", state);
    json.addProperty("level", levelWord());
    add(json, "margin_pct", marginPercent);
    add(json, "margin_low_pct", lowPercent);
    add(json, "available_w", availableWatts);
    add(json, "available_low_w", lowWatts);
    add(json, "demand_w", demandWatts);
    add(json, "lift_g", liftGrams);
    add(json, "lift_low_g", lowLiftGrams);
    add(json, "throttle", throttle);
    add(json, "throttle_ceiling", ceiling);
    JsonNumber.add(json, "age_s", age, 3);
    return json;
  }

  private static void add(JsonObject json, String name, double value) {
    JsonNumber.add(json, name, value, 6);
  }
}
