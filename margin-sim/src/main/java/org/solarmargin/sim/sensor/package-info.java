/** What a flight controller logs of the truth. */
package org.solarmargin.sim.sensor;
