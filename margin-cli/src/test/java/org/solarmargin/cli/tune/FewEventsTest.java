package org.solarmargin.cli.tune;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.tune.rule.EventEdits;
import org.solarmargin.cli.tune.rule.JudgedFlight;
import org.solarmargin.cli.tune.rule.Recommendation;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;

/** One calm flight alone, and the work stopped before others: text and page say what is lacking. */
class FewEventsTest {

  private static final Path LOG = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");

  private static String text;
  private static String page;

  @BeforeAll
  static void recommend() throws IOException {
    CraftProfile profile = CraftProfile.read(Cli.STILT).withTiming(TimeModel.SIMULTANEOUS);
    EventEdits none = new EventEdits(List.of(), List.of());
    JudgedFlight flight = new FlightPass(profile, new ColumnMap(List.of()), none, null).run(LOG);
    List<String> notes = new ArrayList<>();
    for (int i = 0; i < 100; i++) {
      notes.add("note " + i);
    }
    flight.note(notes);
    Tuner tuner = new Tuner(profile, 5, 1);
    tuner.add(tuner.judge(flight, false));
    Recommendation recommendation = tuner.recommend();
    StringWriter words = new StringWriter();
    new TuneText(new PrintWriter(words), tuner, recommendation).print("Stilt");
    text = words.toString();
    StringWriter html = new StringWriter();
    Partial partial = Partial.of(true, 1, 3, "logs");
    new TunePage(tuner, recommendation, "Stilt", List.of(LOG), partial).write(html);
    page = html.toString();
  }

  @Test
  void nothingStandsInForTheEvents() {
    assertTrue(text.contains("1 logged flights"), text);
    assertTrue(text.contains("events: 0"), text);
    assertTrue(
        text.contains("FEW EVENTS: fewer than 5 were logged; no simulated flights were added."),
        text);
    assertTrue(text.contains("No events, so nothing supports earlier alerts."), text);
    assertFalse(text.contains("Remove one with"), "there is none to remove");
  }

  @Test
  void oneFlightCannotBeLeftOut() {
    assertTrue(text.contains("With only one flight the choice cannot be cross-validated."), text);
  }

  @Test
  void ofManyNotesTheFirstAreShown() {
    long shown = text.lines().filter(line -> line.startsWith("log    gusty-hover.csv: ")).count();
    assertTrue(shown > 0 && shown < 100, "shown: " + shown);
    assertTrue(text.contains("log    and " + (100 - shown) + " more; see margin replay"), text);
  }

  @Test
  void thePageSaysSoToo() {
    assertTrue(page.contains("PARTIAL: stopped after 1 of 3 logs"));
    assertTrue(page.contains("Few events were logged, so the recommendation has little support."));
    assertTrue(page.contains("None."), "of the events");
    assertEquals(-1, page.indexOf("NaN"), "no figure without a value");
  }
}
