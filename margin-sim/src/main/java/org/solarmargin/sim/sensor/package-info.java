/** Sensors: the readings that a flight controller logs of the true values. */
package org.solarmargin.sim.sensor;
