/** Air density and gusts. */
package org.solarmargin.sim.air;
