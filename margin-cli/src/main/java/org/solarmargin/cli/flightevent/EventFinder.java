package org.solarmargin.cli.flightevent;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/**
 * Finds losses of lift in a flight: past the knee for 0.3 s, bus voltage below the brown-out, full
 * throttle with falling power, and the pilot's marks of a loss. An event that begins within 5 s of
 * the end of the previous one is part of it.
 */
public final class EventFinder {

  // the times and shares of this class are engineering judgement
  private static final double REJOIN_SECONDS = 1;
  private static final double BROWNOUT_SECONDS = 0.1;
  private static final double FULL_THROTTLE = 0.97;
  private static final double SINKING_SHARE = 0.97;
  private static final double SINKING_SECONDS = 0.5;
  private static final double SAME_SECONDS = 5;

  private final double brownoutVolts;
  private final List<FlightEvent> found = new ArrayList<>();
  private final List<FlightEvent> others = new ArrayList<>();
  private final Episode knee = Episode.loss(recordAs("past the knee for %.1f s"));
  private final Episode brownout =
      new Episode(BROWNOUT_SECONDS, REJOIN_SECONDS, recordAs("bus below brown-out for %.1f s"));
  private final Episode full =
      Episode.loss(recordAs("full throttle with falling power for %.1f s"));
  private String lastMark = "";
  private double slowWatts = Double.NaN;
  private double lastSeconds = Double.NaN;

  /**
   * A finder before any sample.
   *
   * @param brownoutVolts V; NaN if not known
   */
  public EventFinder(double brownoutVolts) {
    this.brownoutVolts = brownoutVolts;
  }

  private Episode.Listener recordAs(String evidence) {
    return (start, end, longEnough) -> {
      if (longEnough) {
        found.add(new FlightEvent(start, end, String.format(Locale.ROOT, evidence, end - start)));
      }
    };
  }

  /**
   * Processes one accepted sample.
   *
   * @param seconds time in the log, s
   * @param busVolts V
   * @param throttle 0 to 1
   * @param airborne whether the rotors carry the craft
   * @param reading the reading there
   */
  public void take(
      double seconds, double busVolts, double throttle, boolean airborne, MarginReading reading) {
    knee.follow(seconds, reading.status() == Status.PAST_KNEE);
    brownout.follow(seconds, airborne && busVolts < brownoutVolts);
    double watts = reading.demandWatts();
    double step = Double.isNaN(lastSeconds) ? 0 : seconds - lastSeconds;
    double share = 1 - Math.exp(-step / SINKING_SECONDS);
    slowWatts = Double.isNaN(slowWatts) ? watts : slowWatts + share * (watts - slowWatts);
    full.follow(
        seconds, airborne && throttle >= FULL_THROTTLE && watts < SINKING_SHARE * slowWatts);
    lastSeconds = seconds;
  }

  /**
   * Processes the pilot's mark of one line; a mark repeated in successive lines counts once.
   *
   * @param seconds time in the log, s; a mark at NaN, before any time, is ignored
   * @param text the mark, empty if there is none
   */
  public void mark(double seconds, String text) {
    if (Double.isNaN(seconds)) {
      return;
    }
    if (!text.isEmpty() && !text.equals(lastMark)) {
      (LossMarks.isLoss(text) ? found : others)
          .add(new FlightEvent(seconds, seconds, "marked: " + text));
    }
    lastMark = text;
  }

  /** Ends the flight. */
  public void finish() {
    knee.finish();
    brownout.finish();
    full.finish();
  }

  /**
   * The losses found; complete after {@link #finish()}.
   *
   * @return by onset
   */
  public List<FlightEvent> events() {
    return merged(found);
  }

  /**
   * Marks that do not denote a loss, see {@link LossMarks}.
   *
   * @return in the order of the log
   */
  public List<FlightEvent> otherMarks() {
    return List.copyOf(others);
  }

  /**
   * Sorts events and merges those in close succession.
   *
   * @param events in any order
   * @return by onset
   */
  public static List<FlightEvent> merged(List<FlightEvent> events) {
    List<FlightEvent> sorted = new ArrayList<>(events);
    sorted.sort(Comparator.comparingDouble(FlightEvent::seconds));
    List<FlightEvent> kept = new ArrayList<>();
    for (FlightEvent event : sorted) {
      int last = kept.size() - 1;
      FlightEvent before = last < 0 ? null : kept.get(last);
      if (before == null || event.seconds() - before.endSeconds() > SAME_SECONDS) {
        kept.add(event);
      } else if (event.endSeconds() > before.endSeconds()) {
        kept.set(last, new FlightEvent(before.seconds(), event.endSeconds(), before.evidence()));
      }
    }
    return kept;
  }
}
