package org.solarmargin.cli.outlook;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.solarmargin.cli.init.HoverGuess;
import org.solarmargin.cli.init.ProfileText;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.profile.CraftProfile;

/**
 * A craft with a given number of cells.
 *
 * @param series cells in series
 * @param strings strings in parallel
 * @param kilograms take-off mass
 * @param openCircuitVolts open-circuit voltage of the array at 1000 W/m2 and 25 degrees Celsius
 * @param profile profile of the craft
 * @param profileText the same as commented text
 * @param hoverWatts hover power at the best moment; NaN before it is known
 * @param lowWatts lower bound of the array's power at that moment
 * @param best that moment; empty before it is known, in polar night and for a craft that cannot fly
 */
record SizedCraft(
    int series,
    int strings,
    double kilograms,
    double openCircuitVolts,
    CraftProfile profile,
    ProfileText profileText,
    double hoverWatts,
    double lowWatts,
    Optional<Moment> best) {

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
    given.put("housekeeping.power_w", "" + options.housekeepingWatts());
    StringBuilder bare = new StringBuilder();
    given.forEach((key, value) -> bare.append(key).append(" = ").append(value).append('\n'));
    double watts =
        options.housekeepingWatts()
            + HoverGuess.motorWatts(
                mass, options.rotors(), options.diameter(), options.merit(), options.drive());
    StringBuilder cells = new StringBuilder();
    // counts and data sheet only, because a craft too heavy for its array is not a fault here
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
        new ProfileText(given, hover.keySet()),
        flies ? Double.NaN : watts,
        flies ? Double.NaN : 0,
        Optional.empty());
  }

  /**
   * The craft evaluated at a moment, less the loss of unequal cells; a craft that cannot fly is
   * returned unchanged.
   */
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
            moment.lowWatts() * (1 - mismatch),
            Optional.of(moment))
        : this;
  }

  /** Power of a cell at 25 degrees C and at the best hour, and the mass hovered per watt. */
  List<String> figures() {
    SolarArray cells = profile.settings().newArray();
    cells.set(1, 25);
    cells.solvePeak();
    List<String> lines = new ArrayList<>();
    lines.add(
        String.format(
            Locale.ROOT,
            "A cell delivers %.2f W at 1000 W/m2 and 25 C; the craft hovers at %.1f g per watt.",
            cells.peakWatts() / cells(),
            1000 * kilograms / hoverWatts));
    best.ifPresent(
        m ->
            lines.add(
                String.format(
                    Locale.ROOT,
                    "At the best hour, %s, it delivers %.2f W: %.0f W/m2, cells at %.0f C.",
                    OutlookText.CLOCK.format(m.time()),
                    m.availableWatts() / cells(),
                    1000 * m.suns(),
                    m.cellCelsius())));
    return lines;
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
