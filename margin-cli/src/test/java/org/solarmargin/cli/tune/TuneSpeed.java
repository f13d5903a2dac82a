package org.solarmargin.cli.tune;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.tune.rule.EventEdits;
import org.solarmargin.cli.tune.rule.JudgedFlight;
import org.solarmargin.cli.tune.rule.Tuner;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Times the estimator pass and the evaluation of all rules on one thread: {@code TuneSpeed PROFILE
 * LOG...}.
 */
public final class TuneSpeed {

  private TuneSpeed() {}

  /** Runs it three times; the last line counts. */
  public static void main(String[] args) throws IOException {
    CraftProfile profile = CraftProfile.read(Path.of(args[0]));
    FlightPass pass =
        new FlightPass(
            profile, new ColumnMap(List.of()), new EventEdits(List.of(), List.of()), null);
    for (int round = 0; round < 3; round++) {
      Tuner tuner = new Tuner(profile, 5, 1);
      double passSeconds = 0;
      double judgeSeconds = 0;
      for (int i = 1; i < args.length; i++) {
        long start = System.nanoTime();
        JudgedFlight flight = pass.run(Path.of(args[i]));
        long passed = System.nanoTime();
        tuner.add(tuner.judge(flight, false));
        passSeconds += (passed - start) * 1e-9;
        judgeSeconds += (System.nanoTime() - passed) * 1e-9;
      }
      System.out.printf(
          "pass %.2f s, %d rules %.2f s: 1000 rules cost %.2f times the pass%n",
          passSeconds,
          tuner.ruleCount(),
          judgeSeconds,
          judgeSeconds / passSeconds * 1000 / tuner.ruleCount());
    }
  }
}
