package org.solarmargin.cli.outlook;

import java.time.ZonedDateTime;

/**
 * Light and air at one time of a day, independent of the craft.
 *
 * @param time local time
 * @param suns light in the array's plane relative to 1000 W/m2
 * @param airCelsius air temperature
 */
record SkyMoment(ZonedDateTime time, double suns, double airCelsius) {}
