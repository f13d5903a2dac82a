package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.core.alert.LevelRule;

/** Results of each rule of a level on one flight: lead times before its events, and nuisances. */
public final class FlightTally {

  private static final float[] NONE = {};

  private final String name;
  private final boolean simulated;
  private final double hours;
  private final double origin;
  private final List<FlightEvent> events;
  private final List<FlightEvent> otherMarks;
  private final List<String> notes;
  private final float[] leads;
  private final float[] preceding;
  private final float[][] nuisances;
  private final short[] raises;

  private FlightTally(JudgedFlight flight, boolean simulated, int rules) {
    this.name = flight.name();
    this.simulated = simulated;
    this.hours = flight.airborneHours();
    this.origin = flight.origin();
    this.events = flight.events();
    this.otherMarks = flight.otherMarks();
    this.notes = flight.notes();
    leads = new float[rules * events.size()];
    preceding = new float[rules * events.size()];
    nuisances = new float[rules][];
    raises = new short[rules];
  }

  /** Evaluates all rules of a level on a flight. */
  static FlightTally of(
      JudgedFlight flight, boolean simulated, LevelAim aim, List<LevelRule> rules) {
    FlightTally tally = new FlightTally(flight, simulated, rules.size());
    LevelReplay replay = new LevelReplay(flight, aim);
    int events = flight.events().size();
    for (int r = 0; r < rules.size(); r++) {
      replay.judge(rules.get(r));
      for (int e = 0; e < events; e++) {
        tally.leads[r * events + e] = replay.lead(e);
        tally.preceding[r * events + e] = replay.preceding(e);
      }
      tally.nuisances[r] = replay.nuisances() == 0 ? NONE : replay.nuisanceTimes();
      tally.raises[r] = (short) Math.min(replay.raises(), Short.MAX_VALUE);
    }
    return tally;
  }

  public String name() {
    return name;
  }

  public boolean simulated() {
    return simulated;
  }

  public double hours() {
    return hours;
  }

  /** Time of the first sample in the log, s. */
  public double origin() {
    return origin;
  }

  public List<FlightEvent> events() {
    return events;
  }

  /** As {@link JudgedFlight#notes}. */
  public List<String> notes() {
    return notes;
  }

  /** The pilot's marks that do not denote a loss. */
  public List<FlightEvent> otherMarks() {
    return otherMarks;
  }

  /** How long a rule's alert had been active when an event began, s; NaN if it was not active. */
  public float lead(int rule, int event) {
    return leads[rule * events.size() + event];
  }

  /** As {@link LevelReplay#preceding}, of a rule. */
  float preceding(int rule, int event) {
    return preceding[rule * events.size() + event];
  }

  int nuisances(int rule) {
    return nuisances[rule].length;
  }

  /** Times at which a rule's nuisances were raised, s since the first sample. */
  public List<Double> nuisanceTimes(int rule) {
    List<Double> times = new ArrayList<>();
    for (float time : nuisances[rule]) {
      times.add((double) time);
    }
    return times;
  }

  int raises(int rule) {
    return raises[rule];
  }
}
