package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.solarmargin.cli.flightevent.EventFinder;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.core.profile.PlainNumber;

/** Events that the user adds to those found, or removes; may be applied by several threads. */
public final class EventEdits {

  /**
   * Largest distance of a removed event from the given time, and of an added one from the log,
   * which may end as power is lost: engineering judgement.
   */
  private static final double NEAR_SECONDS = 2.5;

  private record Edit(String text, String log, double seconds) {
    boolean of(String name) {
      return log.isEmpty() || log.equals(name);
    }

    boolean near(FlightEvent event) {
      return Math.abs(seconds - event.seconds()) <= NEAR_SECONDS;
    }
  }

  private final List<Edit> added;
  private final List<Edit> struck;
  private final Set<String> seen = ConcurrentHashMap.newKeySet();
  private final Set<Edit> used = ConcurrentHashMap.newKeySet();

  /**
   * Parses edits given on the command line.
   *
   * @param added each {@code TIME} or {@code LOG@TIME}
   * @param struck likewise
   * @throws WrongEdit with rule and value if one is invalid
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
        edits.add(new Edit(option + " " + text, at < 0 ? "" : text.substring(0, at), seconds));
      } catch (NumberFormatException e) {
        throw new WrongEdit(option + " must be TIME or LOG@TIME, seconds in the log: " + text);
      }
    }
    return edits;
  }

  /**
   * Refuses edits of logs that are not given.
   *
   * @param logs file names of all logs
   */
  public void requireLogs(Collection<String> logs) {
    for (List<Edit> edits : List.of(added, struck)) {
      for (Edit edit : edits) {
        if (!edit.log().isEmpty() && !logs.contains(edit.log())) {
          throw new WrongEdit(
              edit.text()
                  + ": the log "
                  + edit.log()
                  + " is not given: LOG must be the file name, without its folder, of one that is");
        }
      }
    }
  }

  /**
   * The events of a log after the edits.
   *
   * @param log its file name
   * @param first time of its first sample, s
   * @param last time of its last sample, s
   * @param found the events found in it
   * @return by onset
   * @throws WrongEdit if an added event lies outside the log
   */
  public List<FlightEvent> apply(String log, double first, double last, List<FlightEvent> found) {
    List<FlightEvent> events = new ArrayList<>(found);
    seen.add(log);
    for (Edit edit : struck) {
      if (edit.of(log) && found.stream().anyMatch(edit::near)) {
        events.removeIf(edit::near);
        used.add(edit);
      }
    }
    for (Edit edit : added) {
      if (edit.of(log)) {
        requireInside(edit, log, first, last);
        events.add(new FlightEvent(edit.seconds(), edit.seconds(), "given with --event"));
      }
    }
    return EventFinder.merged(events);
  }

  private static void requireInside(Edit edit, String log, double first, double last) {
    if (edit.seconds() < first - NEAR_SECONDS || edit.seconds() > last + NEAR_SECONDS) {
      throw new WrongEdit(
          String.format(
              Locale.ROOT,
              "%s: the log %s lasts from %.1f to %.1f s%s",
              edit.text(),
              log,
              first,
              last,
              edit.log().isEmpty() ? "; give LOG@TIME if another log is meant" : ""));
    }
  }

  /** Refuses a removal that no event matches in the logs to which the edits were applied. */
  public void requireUsed() {
    for (Edit edit : struck) {
      if (!used.contains(edit) && (edit.log().isEmpty() || seen.contains(edit.log()))) {
        throw new WrongEdit(
            String.format(
                Locale.ROOT,
                "%s: no event begins within %.1f s of this time: see the events listed without"
                    + " --strike",
                edit.text(),
                NEAR_SECONDS));
      }
    }
  }
}
