package org.solarmargin.sim.flight;

import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.Sky;

/**
 * All that one flight needs.
 *
 * @param layout the array
 * @param airframe the craft
 * @param plan heights
 * @param sky light
 * @param airCelsius air temperature
 * @param siteMetres height of the site over the sea
 * @param wind mean wind, m/s
 * @param wind20 W20 of the Dryden model, m/s
 * @param downwash speed of the rotors' air over the cells, m/s
 * @param sensors what is wrong with the sensors
 * @param sampleHertz rate of the log
 * @param stringLostSeconds when one string breaks; infinite for never
 * @param gustSeconds when a single rising gust (one minus cosine) begins; infinite for never
 * @param gustMetresPerSecond its peak, downward air positive
 * @param gustLengthSeconds its length
 */
public record FlightSetup(
    ArrayLayout layout,
    Airframe airframe,
    FlightPlan plan,
    Sky sky,
    double airCelsius,
    double siteMetres,
    double wind,
    double wind20,
    double downwash,
    SensorErrors sensors,
    double sampleHertz,
    double stringLostSeconds,
    double gustSeconds,
    double gustMetresPerSecond,
    double gustLengthSeconds) {}
