/** Rotors by momentum theory; motors with copper loss, friction and inertia. */
package org.solarmargin.sim.craft;
