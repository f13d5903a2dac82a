/**
 * Scenario files: what is flown, in which sky and air, with which faults; and how trials vary it.
 */
package org.solarmargin.sim.scenario;
