/** Scenario files: flight plan, sky, air, faults, and their random variation in trials. */
package org.solarmargin.sim.scenario;
