/** What the rotors take from the bus, all motors of the craft as one. */
package org.solarmargin.core.rotor;
