package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.flightevent.EventFinder;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.core.profile.PlainNumber;

/** Events that the user adds to those found, or removes. */
public final class EventEdits {

  /** Largest distance of a removed event from the given time: engineering judgement. */
  private static final double NEAR_SECONDS = 2.5;

  private record Edit(String log, double seconds) {
    boolean of(String name) {
      return log.isEmpty() || log.equals(name);
    }
  }

  private final List<Edit> added;
  private final List<Edit> struck;

  /**
   * Parses edits given on the command line.
   *
   * @param added each {@code TIME} or {@code LOG@TIME}
   * @param struck likewise
   * @throws IllegalArgumentException with rule and value if one is invalid
   */
  public EventEdits(List<String> added, List<String> struck) {
    this.added = parse("--event", added);
    this.struck = parse("--strike", struck);
  }

  private static List<Edit> parse(String option, List<String> texts) {
    List<Edit> edits = new ArrayList<>();
    for (String text : texts) {
      int at = text.lastIndexOf('@');
      try {
        double seconds = PlainNumber.parse(text.substring(at + 1));
        if (!Double.isFinite(seconds)) {
          throw new NumberFormatException();
        }
        edits.add(new Edit(at < 0 ? "" : text.substring(0, at), seconds));
      } catch (NumberFormatException e) {
        throw new IllegalArgumentException(
            option + " must be TIME or LOG@TIME, seconds in the log: " + text, e);
      }
    }
    return edits;
  }

  public List<FlightEvent> apply(String log, List<FlightEvent> found) {
    List<FlightEvent> events = new ArrayList<>(found);
    events.removeIf(
        event ->
            struck.stream()
                .anyMatch(
                    e -> e.of(log) && Math.abs(e.seconds() - event.seconds()) <= NEAR_SECONDS));
    for (Edit edit : added) {
      if (edit.of(log)) {
        events.add(new FlightEvent(edit.seconds(), edit.seconds(), "given with --event"));
      }
    }
    return EventFinder.merged(events);
  }
}
