package org.solarmargin.cli.outlook;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What is missing if no array carries a craft with its reserve, and which changes would suffice.
 *
 * <p>For a given array, the motors' power in hover is proportional to the mass to the power of 1.5
 * and inversely proportional to the diameter of the propellers (momentum theory). In wind, which
 * reduces the power, more so for light craft with large propellers, these laws err on the safe
 * side.
 */
final class SizeShortfall {

  /** Suggested changes are larger than the exact ones by this share, so that rounding is safe. */
  private static final double ROUNDING = 0.005;

  private final SizeOptions options;
  private final List<SizedCraft> all;
  private final SizedCraft most;
  private final SizedCraft free;

  /**
   * Creates the text for a craft.
   *
   * @param options of the craft
   * @param all crafts within the limits, none of which has the required reserve
   * @param most the one with the greatest reserve
   * @param free the craft with the greatest reserve if there were no limits
   */
  SizeShortfall(SizeOptions options, List<SizedCraft> all, SizedCraft most, SizedCraft free) {
    this.options = options;
    this.all = all;
    this.most = most;
    this.free = free;
  }

  List<String> paragraphs() {
    List<String> text = new ArrayList<>();
    text.add(headline());
    double needed = most.hoverWatts() * (1 + options.reserve() / 100);
    text.add(
        words(
            "The best array within the limits, %s, delivers %.0f W at the best hour, and at least"
                + " %.0f W with 95 %% probability. Hover takes %.0f W, and %.0f W with the reserve"
                + " of %.0f %%: %.0f W are missing.",
            SizeCommand.cells(most.cells()),
            most.availableWatts(),
            most.lowWatts(),
            most.hoverWatts(),
            needed,
            options.reserve(),
            needed - most.lowWatts()));
    // otherwise the search ended at the largest hover power of a profile, not at an optimum
    boolean optimum = options.hoverWatts(free.cells() + 1) < SizeOptions.MOST_WATTS;
    if (optimum && free.cells() > most.cells() && free.lowPercent() > most.lowPercent()) {
      text.add(
          words(
              "Without the limits (%s), the best array would have %s: at least %.0f W for a hover"
                  + " of %.0f W, a reserve of %.0f %%.",
              options.limits(),
              SizeCommand.cells(free.cells()),
              free.lowWatts(),
              free.hoverWatts(),
              free.lowPercent()));
    }
    List<String> changes = changes();
    if (changes.isEmpty()) {
      text.add("Within the limits, neither a smaller mass nor larger propellers suffice alone.");
    } else {
      text.add("What would suffice alone, within the limits:");
      text.addAll(changes);
    }
    text.add(
        "Or combine smaller changes with better or lighter cells (--isc, --vmp, --cell-kg), lighter"
            + " supports (--frame-kg) and a better drive (--merit, --drive).");
    return text;
  }

  private String headline() {
    if (!most.lifts()) {
      return free.lifts()
          ? "NO ARRAY within the limits (" + options.limits() + ") lifts this craft."
          : "NO NUMBER OF CELLS lifts this craft: more cells weigh more than they lift.";
    }
    return words(
        "NO ARRAY %s lifts this craft with a reserve of %.0f %%.",
        free.lowPercent() >= options.reserve()
            ? "within the limits (" + options.limits() + ")"
            : "of these cells",
        options.reserve());
  }

  private List<String> changes() {
    List<String> changes = new ArrayList<>();
    double mass = (1 - ROUNDING) * all.stream().mapToDouble(this::massCarried).max().orElse(0);
    if (mass > SizeOptions.LEAST_KILOGRAMS) {
      changes.add(
          words(
              "- everything except the cells weighs %.3g kg instead of %.3g kg (--mass-kg)",
              mass, options.massWithoutCells()));
    }
    double diameter =
        (1 + ROUNDING)
            * all.stream().mapToDouble(c -> options.diameter() / spare(c)).min().orElse(1e9);
    if (diameter <= SizeOptions.LARGEST_DIAMETER) {
      changes.add(
          words(
              "- propellers of %.3g m instead of %.3g m (--diameter-m)",
              diameter, options.diameter()));
    }
    if (most.lowPercent() >= 0) {
      changes.add(
          words(
              "- a reserve of %.0f %% instead of %.0f %% (--reserve)",
              Math.floor(most.lowPercent()), options.reserve()));
    }
    return changes;
  }

  /** Greatest mass, without cells, that an array carries with the reserve; it may be negative. */
  private double massCarried(SizedCraft craft) {
    double cells = craft.kilograms() - options.massWithoutCells();
    return craft.kilograms() * Math.pow(spare(craft), 2.0 / 3) - cells;
  }

  /** Power left for the motors relative to that which they need in hover; 0 if none is left. */
  private double spare(SizedCraft craft) {
    double house = options.housekeepingWatts();
    double left = craft.lowWatts() / (1 + options.reserve() / 100) - house;
    return Math.max(left, 0) / (craft.hoverWatts() - house);
  }

  private static String words(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
