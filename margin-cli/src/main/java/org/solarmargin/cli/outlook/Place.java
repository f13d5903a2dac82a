package org.solarmargin.cli.outlook;

/**
 * A place.
 *
 * @param latitude degrees, north positive
 * @param longitude degrees, east positive
 * @param altitude m over the sea
 */
record Place(double latitude, double longitude, double altitude) {}
