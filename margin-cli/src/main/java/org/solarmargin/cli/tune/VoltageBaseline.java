package org.solarmargin.cli.tune;

import java.util.List;
import java.util.Locale;
import org.solarmargin.cli.event.FlightEvent;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/**
 * The best alarm at a fixed bus voltage on a set of flights, for comparison with a profile's
 * WARNING: chosen with hindsight, with that WARNING's delays and no more nuisances than it had.
 * Flights are taken one after the other, by one thread.
 */
public final class VoltageBaseline {

  private final CraftProfile profile;
  private final VoltageEvidence evidence;
  private int nuisances;
  private int flights;

  /** No flights yet. */
  public VoltageBaseline(CraftProfile profile) {
    this.profile = profile;
    evidence = new VoltageEvidence(profile);
  }

  /** One flight under the profile, sample by sample. */
  public static final class Flight {
    private final JudgedFlight flight = new JudgedFlight("");

    /** A flight without samples. */
    public Flight() {}

    /**
     * Takes the monitor's state after a sample whose time has moved on.
     *
     * @param seconds time of the sample, s
     * @param volts its bus voltage, V; NaN if it has none
     * @param monitor after the sample
     * @param accepted whether the monitor took it
     */
    public void take(double seconds, double volts, MarginMonitor monitor, boolean accepted) {
      flight.add(seconds, volts, monitor, accepted);
    }
  }

  /** Adds a whole flight with the losses found in it. */
  public void add(Flight ended, List<FlightEvent> losses) {
    JudgedFlight flight = ended.flight;
    flight.finish(losses, List.of());
    LevelReplay warning = new LevelReplay(flight, LevelAim.WARNING);
    warning.judge(profile.rules().warning());
    nuisances += warning.nuisances();
    evidence.add(evidence.judge(flight));
    flights++;
  }

  /** Flights that were added. */
  public int flights() {
    return flights;
  }

  /** The best threshold, V. */
  public double volts() {
    return evidence.volts(best());
  }

  /** How often the best alarm was raised. */
  public int raises() {
    return score().raises();
  }

  /** Its losses, those missed and its median lead, for people. */
  public String words() {
    Score score = score();
    return score.events() == 0
        ? "no event"
        : String.format(
            Locale.ROOT,
            "%d events, %d missed, median %.1f s",
            score.events(),
            score.missed(),
            score.medianLead());
  }

  private int best() {
    return evidence.best(nuisances, 0);
  }

  private Score score() {
    return evidence.score(best(), 0);
  }
}
