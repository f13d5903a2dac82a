/** One flight: the height loop, the bus, the truth, and who watches. */
package org.solarmargin.sim.flight;
