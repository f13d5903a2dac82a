package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.core.profile.CraftProfile;

/** Crafts with different numbers of the same cells, each at the best moment of a clear day. */
final class SizeSearch {

  /** Largest array that is considered for a craft. */
  static final int MOST_CELLS = 400;

  /** Largest number of cells if there were no limits: as many as a profile may have. */
  static final int FREE_CELLS = 10_000;

  private static final Duration STEP = Duration.ofMinutes(30);

  private final SizeOptions options;
  private final SiteOptions site;
  private final LocalDate day;
  private List<SkyMoment> sky;

  SizeSearch(SizeOptions options, SiteOptions site, LocalDate day) {
    this.options = options;
    this.site = site;
    this.day = day;
  }

  /** Every array within the limits of voltage, strings and cells; refuses a day without light. */
  List<SizedCraft> withinLimits() {
    List<SizedCraft> all = new ArrayList<>();
    for (int strings = 1; strings <= options.mostStrings(); strings++) {
      for (int series = 1; possible(series * strings, MOST_CELLS); series++) {
        SizedCraft craft = SizedCraft.of(options, series, strings, this::best);
        if (craft.openCircuitVolts() > options.mostVolts()) {
          break;
        }
        all.add(craft);
      }
    }
    if (all.isEmpty()) {
      throw new IllegalArgumentException(
          "--most-v must exceed the open-circuit voltage of one cell: " + options.mostVolts());
    }
    return all;
  }

  /**
   * The craft with the greatest reserve if neither voltage nor strings limited the number of cells.
   * The power of equal cells does not depend on their arrangement, so they are all in parallel. The
   * power grows with the number of cells, that for hover with the mass to the power of 1.5: the
   * reserve has a single maximum.
   */
  SizedCraft withoutLimits() {
    int low = 1;
    int high = FREE_CELLS;
    while (low < high) {
      int middle = (low + high) / 2;
      boolean grows =
          possible(middle + 1, FREE_CELLS)
              && unlimited(middle + 1).lowPercent() > unlimited(middle).lowPercent();
      low = grows ? middle + 1 : low;
      high = grows ? high : middle;
    }
    return unlimited(low);
  }

  private SizedCraft unlimited(int cells) {
    return SizedCraft.of(options, 1, cells, this::best);
  }

  private boolean possible(int cells, int most) {
    return cells <= most && options.hoverWatts(cells) < SizeOptions.MOST_WATTS;
  }

  private Moment best(CraftProfile craft) {
    DayOutlook outlook = new DayOutlook(craft, site.place(), site.weather(craft), site.attitude());
    sky = sky == null ? outlook.sky(day, site.zone(), STEP) : sky;
    return Moment.best(sky.stream().map(outlook::moment).toList())
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    "no light falls on the array there on "
                        + day
                        + ": give another --date or --at"));
  }
}
