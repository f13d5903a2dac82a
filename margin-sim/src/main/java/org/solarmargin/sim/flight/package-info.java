/** One flight: height control, bus, true values, and the interface for watchers. */
package org.solarmargin.sim.flight;
