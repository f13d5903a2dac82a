package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.flightevent.Episode;
import org.solarmargin.cli.flightevent.FlightEvent;
import org.solarmargin.sim.flight.LossOfLift;

/** Losses of a simulated flight from its truth, defined as in {@code trial}. */
public final class TrueLosses {

  private final List<FlightEvent> events = new ArrayList<>();
  private final Episode past =
      Episode.loss(
          (start, end, longEnough) -> {
            if (longEnough) {
              events.add(new FlightEvent(start, end, "past the knee according to the truth"));
            }
          });

  public void take(double seconds, double throttle, double volts, double peakVolts) {
    past.follow(
        seconds, throttle > LossOfLift.AIRBORNE_THROTTLE && LossOfLift.pastKnee(volts, peakVolts));
  }

  /** Ends the flight and returns the losses by onset. */
  public List<FlightEvent> finish() {
    past.finish();
    return events;
  }
}
