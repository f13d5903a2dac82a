/** Light on the array over time: constant, ramps, clouds, broken sky, a day, a recording. */
package org.solarmargin.sim.sky;
