package org.solarmargin.cli.outlook;

import java.time.ZonedDateTime;

/**
 * Light and air at one time of a day, whatever craft is in them.
 *
 * @param time local
 * @param suns light in the array's plane over 1000 W/m2
 * @param airCelsius air
 */
record SkyMoment(ZonedDateTime time, double suns, double airCelsius) {}
