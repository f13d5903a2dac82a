/**
 * The highest throttle to command, so that height control does not take the craft past the knee. An
 * embedder calls it after each update of the monitor; simulated flights with the limiter use the
 * same class.
 */
package org.solarmargin.core.limiter;
