/** Thrust stands: hover power and the thrust law of motors and propellers. */
package org.solarmargin.cli.fit.rotor;
