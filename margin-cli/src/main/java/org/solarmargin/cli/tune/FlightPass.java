package org.solarmargin.cli.tune;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.flightevent.EventFinder;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.cli.format.Progress;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.log.TruthReader;
import org.solarmargin.cli.playback.LogPlayer;
import org.solarmargin.cli.playback.LogTiming;
import org.solarmargin.cli.playback.Verdicts;
import org.solarmargin.cli.tune.rule.EventEdits;
import org.solarmargin.cli.tune.rule.JudgedFlight;
import org.solarmargin.cli.tune.rule.TrueLosses;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/** One estimator pass over one log, collecting the inputs of the alert rules and the events. */
final class FlightPass {

  private static final int PEAK_VOLTS = 0;

  private final CraftProfile profile;
  private final ColumnMap columns;
  private final EventEdits edits;
  private final Path truthFolder;

  /** The truth's folder may be null. */
  FlightPass(CraftProfile profile, ColumnMap columns, EventEdits edits, Path truthFolder) {
    this.profile = profile;
    this.columns = columns;
    this.edits = edits;
    this.truthFolder = truthFolder;
  }

  JudgedFlight run(Path log) throws IOException {
    String name = log.getFileName().toString();
    try (LogReader reader = new LogReader(log, columns);
        TruthReader truth =
            truthFolder == null
                ? null
                : new TruthReader(truthFolder.resolve(name), List.of("mpp_v"));
        Progress none = Progress.none()) {
      return run(name, LogTiming.of(profile, log, columns).profile(), reader, truth, none);
    }
  }

  private JudgedFlight run(
      String name, CraftProfile timed, LogReader reader, TruthReader truth, Progress none)
      throws IOException {
    JudgedFlight flight = new JudgedFlight(name);
    EventFinder finder = new EventFinder(profile.brownoutVolts());
    TrueLosses losses = new TrueLosses();
    LogPlayer player = new LogPlayer(timed, (t, level, raised, why, m, z) -> {});
    MarginMonitor monitor = player.monitor();
    double[] span = {Double.NaN, Double.NaN};
    player.play(
        reader,
        none,
        (seconds, verdict) -> {
          double volts = reader.value(Column.VOLTS);
          double throttle = reader.value(Column.THROTTLE);
          if (truth != null) {
            truth.next();
            if (player.timeMoved()) {
              losses.take(seconds, throttle, volts, truth.value(PEAK_VOLTS));
            }
          }
          finder.mark(seconds, reader.event());
          boolean accepted = Verdicts.usable(verdict);
          if (accepted) {
            finder.take(seconds, volts, throttle, monitor.airborne(), monitor.reading());
          }
          if (player.timeMoved()) {
            span[0] = Double.isNaN(span[0]) ? seconds : span[0];
            span[1] = seconds;
            flight.add(seconds, volts, monitor, accepted);
          }
        });
    player.requireUsable(name);
    List<String> notes = new ArrayList<>(reader.notes());
    notes.addAll(reader.faults());
    flight.note(notes);
    finder.finish();
    List<FlightEvent> found = truth == null ? finder.events() : losses.finish();
    flight.finish(edits.apply(name, span[0], span[1], found), finder.otherMarks());
    return flight;
  }
}
