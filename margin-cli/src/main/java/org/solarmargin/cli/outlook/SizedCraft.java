package org.solarmargin.cli.outlook;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import org.solarmargin.cli.init.HoverGuess;
import org.solarmargin.cli.init.ProfileText;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A craft with a given number of cells at the best moment of a day. It need not be able to hover.
 *
 * @param series cells in series
 * @param strings strings in parallel
 * @param kilograms take-off mass
 * @param openCircuitVolts open-circuit voltage of the array at 1000 W/m2 and 25 degrees Celsius
 * @param profile profile of the craft
 * @param profileText the same as commented text
 * @param share share of the array's power that unequal cells leave
 * @param best the moment with the greatest reserve
 */
record SizedCraft(
    int series,
    int strings,
    double kilograms,
    double openCircuitVolts,
    CraftProfile profile,
    ProfileText profileText,
    double share,
    Moment best) {

  /** The craft with its hover point by momentum theory, at the moment that is best for it. */
  static SizedCraft of(
      SizeOptions options, int series, int strings, Function<CraftProfile, Moment> bestMoment) {
    double mass = options.kilograms(series * strings);
    Map<String, String> given = new LinkedHashMap<>();
    given.put("craft.name", "sized");
    given.put("craft.mass_kg", String.format(Locale.ROOT, "%.4g", mass));
    given.put("array.series_cells", "" + series);
    given.put("array.parallel_strings", "" + strings);
    options.sheet().forEach(line -> given.put(line[0], line[1]));
    given.put("rotor.count", "" + options.rotors());
    given.put("rotor.diameter_m", "" + options.diameter());
    given.put("housekeeping.power_w", "" + options.housekeepingWatts());
    // counts and data sheet only, because a craft too heavy for its array is not a fault here
    StringBuilder cells = new StringBuilder();
    given.forEach(
        (key, value) -> {
          if (key.startsWith("array.") || key.startsWith("cell.")) {
            cells.append(key).append(" = ").append(value).append('\n');
          }
        });
    CraftProfile bare = CraftProfile.parse("sized", cells.toString());
    Map<String, String> hover =
        HoverGuess.lines(bare.settings(), options.hoverWatts(series * strings));
    given.putAll(hover);
    SolarArray array = bare.settings().newArray();
    CraftProfile profile = hovering(bare, given, options);
    return new SizedCraft(
        series,
        strings,
        mass,
        array.openCircuitVolts(),
        profile,
        new ProfileText(given, hover.keySet()),
        1 - options.mismatch() / 100,
        bestMoment.apply(profile));
  }

  /** The craft of these values; unlike in a profile that is read, its hover may be impossible. */
  private static CraftProfile hovering(
      CraftProfile bare, Map<String, String> values, SizeOptions options) {
    EstimatorSettings array = bare.settings();
    EstimatorSettings settings =
        new EstimatorSettings(
            array.cell(),
            array.cellSpread(),
            array.seriesCells(),
            array.parallelStrings(),
            array.thermal(),
            new EstimatorSettings.Rotor(
                Double.parseDouble(values.get("rotor.hover_throttle")),
                options.hoverWatts(array.seriesCells() * array.parallelStrings()),
                Double.parseDouble(values.get("rotor.hover_bus_v")),
                true,
                options.housekeepingWatts()),
            array.sensors(),
            array.timing(),
            array.shadowShare());
    return new CraftProfile(
        values.get("craft.name"),
        options.kilograms(array.seriesCells() * array.parallelStrings()),
        options.rotors(),
        options.diameter(),
        settings,
        bare.rules(),
        bare.brownoutVolts(),
        bare.sources());
  }

  /** Power of a cell at 25 degrees C and at the best hour, and the mass hovered per watt. */
  List<String> figures() {
    SolarArray cells = profile.settings().newArray();
    cells.set(1, 25);
    cells.solvePeak();
    return List.of(
        String.format(
            Locale.ROOT,
            "A cell delivers %.2f W at 1000 W/m2 and 25 C; the craft hovers at %.1f g per watt.",
            cells.peakWatts() / cells(),
            1000 * kilograms / hoverWatts()),
        String.format(
            Locale.ROOT,
            "At the best hour, %s, it delivers %.2f W: %.0f W/m2, cells at %.0f C.",
            OutlookText.CLOCK.format(best.time()),
            best.availableWatts() / cells(),
            1000 * best.suns(),
            best.cellCelsius()));
  }

  int cells() {
    return series * strings;
  }

  double busVolts() {
    return profile.settings().rotor().hoverBusVolts();
  }

  /** Power needed in hover at the best moment, W. */
  double hoverWatts() {
    return best.demandWatts();
  }

  /** Power that the array delivers at the best moment, W. */
  double availableWatts() {
    return share * best.availableWatts();
  }

  /** Lower bound of that power, W. */
  double lowWatts() {
    return share * best.lowWatts();
  }

  /** Whether the craft can hover at the best moment. */
  boolean lifts() {
    return availableWatts() >= hoverWatts();
  }

  double lowPercent() {
    return 100 * (lowWatts() / hoverWatts() - 1);
  }
}
