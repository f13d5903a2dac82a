/** The load of the rotors on the bus: all motors of the craft as one. */
package org.solarmargin.core.rotor;
