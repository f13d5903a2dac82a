/** Rotors by momentum theory, motors with copper, friction and inertia. */
package org.solarmargin.sim.craft;
