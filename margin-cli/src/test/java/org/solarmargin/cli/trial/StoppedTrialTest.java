package org.solarmargin.cli.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.format.Partial;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;
import org.solarmargin.sim.trial.Outcome;
import org.solarmargin.sim.trial.TrialRunner;

/** A trial that is stopped before each of its scenarios has been flown shows no empty figures. */
class StoppedTrialTest {

  private static final List<String> TITLES = List.of("flown", "not flown");

  private static List<Outcome> outcomes(CraftProfile profile, TrialRunner.Limiter limiter)
      throws Exception {
    Path file = Cli.EXAMPLES.resolve("scenarios/fast-edge.properties");
    SetupMaker maker = new SetupMaker(Scenario.read(file, profile), profile);
    return new TrialRunner(List.of(maker), profile, 1, 1, limiter).run(1, done -> {});
  }

  @Test
  void scenariosThatWereNotFlownAreLeftOut() throws Exception {
    CraftProfile profile = CraftProfile.read(Cli.STILT);
    List<Outcome> outcomes = outcomes(profile, TrialRunner.Limiter.BOTH);
    StringWriter written = new StringWriter();
    TrialText text = new TrialText(new PrintWriter(written));
    text.print(TITLES, outcomes);
    text.printVoltage(profile, TITLES, outcomes);
    text.printSaved(TITLES, outcomes);
    assertTrue(written.toString().lines().anyMatch(line -> line.startsWith("flown")));
    assertFalse(written.toString().contains("not flown"), written.toString());
    assertFalse(written.toString().contains("NaN"), written.toString());
    String page = page(outcomes);
    assertTrue(page.contains("PARTIAL: stopped after 1 of 2 flights"));
    assertFalse(page.contains("not flown"), page);
    assertFalse(page.contains(">NaN"), page);
  }

  @Test
  void withoutAFlightThereAreHeadingsOnly() throws Exception {
    StringWriter written = new StringWriter();
    TrialText text = new TrialText(new PrintWriter(written));
    text.print(TITLES, List.of());
    text.printSaved(TITLES, List.of());
    assertFalse(written.toString().contains("NaN"), written.toString());
    String page = page(List.of());
    assertFalse(page.contains(">NaN"), page);
    assertEquals(2, page.split("the lower bound holds in - %", -1).length);
  }

  private static String page(List<Outcome> outcomes) throws Exception {
    StringWriter page = new StringWriter();
    Partial partial = Partial.of(true, 1, 2, "flights");
    new TrialPage("Stilt", partial, 1, "", TITLES, outcomes).write(page);
    return page.toString();
  }
}
