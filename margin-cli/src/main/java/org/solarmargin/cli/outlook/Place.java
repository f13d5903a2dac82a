package org.solarmargin.cli.outlook;

/**
 * A location.
 *
 * @param latitude degrees, north positive
 * @param longitude degrees, east positive
 * @param altitude m above sea level
 */
record Place(double latitude, double longitude, double altitude) {}
