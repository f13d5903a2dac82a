package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;

/**
 * The results for a day, computed once for text, page and sheet.
 *
 * @param asked the question
 * @param moments moments of the day
 * @param changes result of each change, after that of the unchanged day; empty if not requested
 * @param effects effect of a gram, a watt, a kelvin and a percent of light; empty if not requested
 */
record DayAnswer(
    DayQuestion asked,
    List<Moment> moments,
    List<WhatIf.Outcome> changes,
    List<Sensitivity.Effect> effects) {

  /** The day alone. */
  static DayAnswer of(DayQuestion asked) {
    return new DayAnswer(asked, asked.moments(), List.of(), List.of());
  }

  /** The day and the effects of changes to a profile with these lines. */
  static DayAnswer withChanges(DayQuestion asked, List<String> profileLines) throws IOException {
    List<Moment> moments = asked.moments();
    List<WhatIf.Outcome> changes = new ArrayList<>();
    changes.add(WhatIf.Outcome.of("as it is", asked, moments));
    for (WhatIf.Change change : new WhatIf(asked, profileLines).changes()) {
      DayQuestion other = change.question();
      changes.add(WhatIf.Outcome.of(change.words(), other, other.moments()));
    }
    return new DayAnswer(asked, moments, changes, Sensitivity.of(asked, profileLines));
  }
}
