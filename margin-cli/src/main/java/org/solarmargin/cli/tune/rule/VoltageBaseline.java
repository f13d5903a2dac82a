package org.solarmargin.cli.tune.rule;

import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.cli.flightevent.LeadTimeText;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;

/**
 * The best alarm at a fixed bus voltage on a set of flights, for comparison with a profile's
 * WARNING: chosen with hindsight, with that WARNING's delays and no more nuisances than it had.
 * Flights are added one after the other by one thread.
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
     * Adds the monitor's state after a sample whose time is in order.
     *
     * @param seconds time of the sample, s
     * @param volts its bus voltage, V; NaN if it has none
     * @param monitor monitor after the sample
     * @param accepted whether the sample was accepted
     */
    public void take(double seconds, double volts, MarginMonitor monitor, boolean accepted) {
      flight.add(seconds, volts, monitor, accepted);
    }
  }

  /** Adds a complete flight with the losses found in it. */
  public void add(Flight ended, List<FlightEvent> losses) {
    JudgedFlight flight = ended.flight;
    flight.finish(losses, List.of());
    LevelReplay warning = new LevelReplay(flight, LevelAim.WARNING);
    warning.judge(profile.rules().warning());
    nuisances += warning.nuisances();
    evidence.add(evidence.judge(flight));
    flights++;
  }

  /**
   * The best alarm on all flights that were added.
   *
   * @param volts its threshold, V
   * @param raises number of times it was raised
   * @param leads human-readable number of losses, missed ones and median lead time
   */
  public record Best(double volts, int raises, String leads) {}

  /**
   * Chooses the best alarm.
   *
   * @return empty without flights
   */
  public Optional<Best> best() {
    if (flights == 0) {
      return Optional.empty();
    }
    int threshold = evidence.best(nuisances, 0);
    Score score = evidence.score(threshold, 0);
    return Optional.of(
        new Best(
            evidence.volts(threshold),
            score.raises(),
            LeadTimeText.of(score.events(), score.missed(), score.medianLead())));
  }
}
