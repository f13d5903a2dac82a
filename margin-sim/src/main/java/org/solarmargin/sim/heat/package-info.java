/** Cell temperature from light, air and wind. */
package org.solarmargin.sim.heat;
