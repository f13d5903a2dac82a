/** Density and gusts. */
package org.solarmargin.sim.air;
