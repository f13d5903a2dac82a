package org.solarmargin.sim.flight;

import org.solarmargin.sim.air.Air;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.craft.Airframe;
import org.solarmargin.sim.sensor.SensorErrors;
import org.solarmargin.sim.sky.Sky;
import org.solarmargin.sim.timing.CommandTiming;

/**
 * The complete setup of one flight.
 *
 * @param layout the array
 * @param stringLostSeconds when one string breaks, s; infinite for never
 * @param airframe the craft
 * @param command delay and lag from the commanded to the acting throttle
 * @param plan heights or throttle ramp
 * @param sky light
 * @param air wind and temperature
 * @param sensors errors of the sensors
 * @param log format of the log
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
