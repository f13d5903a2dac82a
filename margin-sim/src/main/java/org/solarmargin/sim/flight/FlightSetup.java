package org.solarmargin.sim.flight;

import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.Sky;
import org.solarmargin.sim.timing.CommandTiming;

/**
 * All that one flight needs.
 *
 * @param layout the array
 * @param stringLostSeconds when one string breaks; infinite for never
 * @param airframe the craft
 * @param command how the motors follow the commanded throttle
 * @param plan heights
 * @param sky light
 * @param air wind and temperature
 * @param sensors what is wrong with the sensors
 * @param log how the log is written
 */
public record FlightSetup(
    ArrayLayout layout,
    double stringLostSeconds,
    Airframe airframe,
    CommandTiming command,
    FlightPlan plan,
    Sky sky,
    Air air,
    SensorErrors sensors,
    LogSpec log) {}
