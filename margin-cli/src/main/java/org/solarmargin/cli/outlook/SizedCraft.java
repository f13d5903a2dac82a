package org.solarmargin.cli.outlook;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.solarmargin.cli.init.HoverGuess;
import org.solarmargin.cli.init.ProfileText;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A craft of so many cells.
 *
 * @param series cells in series
 * @param strings side by side
 * @param kilograms take-off mass
 * @param openCircuitVolts of the array, 1000 W/m2 and 25 degrees Celsius
 * @param profile of the craft
 * @param profileText the same as a text with comments
 * @param hoverWatts at the judged moment; NaN before
 * @param lowWatts what the array gives at least then
 */
record SizedCraft(
    int series,
    int strings,
    double kilograms,
    double openCircuitVolts,
    CraftProfile profile,
    String profileText,
    double hoverWatts,
    double lowWatts) {

  /** The craft with its hover point by momentum theory. */
  static SizedCraft of(SizeOptions options, int series, int strings) {
    double mass = options.kilograms(series * strings);
    Map<String, String> given = new LinkedHashMap<>();
    given.put("craft.name", "sized");
    given.put("craft.mass_kg", String.format(Locale.ROOT, "%.4g", mass));
    given.put("array.series_cells", "" + series);
    given.put("array.parallel_strings", "" + strings);
    options.sheet().forEach(line -> given.put(line[0], line[1]));
    given.put("rotor.count", "" + options.rotors());
    given.put("rotor.diameter_m", "" + options.diameter());
    given.put("housekeeping.power_w", "" + options.house());
    StringBuilder bare = new StringBuilder();
    given.forEach((key, value) -> bare.append(key).append(" = ").append(value).append('\n'));
    double watts =
        options.house()
            + HoverGuess.motorWatts(
                mass, options.rotors(), options.diameter(), options.merit(), options.drive());
    StringBuilder cells = new StringBuilder();
    // the counts and the sheet alone: a craft too heavy for its array is no fault here
    given.forEach(
        (key, value) -> {
          if (key.startsWith("array.") || key.startsWith("cell.")) {
            cells.append(key).append(" = ").append(value).append('\n');
          }
        });
    CraftProfile array = CraftProfile.parse("sized", cells.toString());
    Map<String, String> hover = HoverGuess.lines(array.settings(), watts);
    given.putAll(hover);
    SolarArray sized = array.settings().newArray();
    sized.set(1, 25);
    sized.solvePeak();
    boolean flies = watts < sized.peakWatts();
    hover.forEach((key, value) -> bare.append(key).append(" = ").append(value).append('\n'));
    CraftProfile profile = flies ? CraftProfile.parse("sized", bare.toString()) : array;
    return new SizedCraft(
        series,
        strings,
        mass,
        sized.openCircuitVolts(),
        profile,
        new ProfileText(given, hover.keySet()).text(),
        flies ? Double.NaN : watts,
        flies ? Double.NaN : 0);
  }

  /** Judged at a moment, its unequal cells taken off; a craft that cannot fly stays as it is. */
  SizedCraft at(Moment moment, double mismatch) {
    return Double.isNaN(hoverWatts)
        ? new SizedCraft(
            series,
            strings,
            kilograms,
            openCircuitVolts,
            profile,
            profileText,
            moment.demandWatts(),
            moment.lowWatts() * (1 - mismatch))
        : this;
  }

  int cells() {
    return series * strings;
  }

  double busVolts() {
    return profile.settings().rotor().hoverBusVolts();
  }

  double lowPercent() {
    return 100 * (lowWatts / hoverWatts - 1);
  }
}
