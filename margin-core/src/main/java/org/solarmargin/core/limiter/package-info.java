/**
 * The highest throttle to give, so that a height loop does not pull the craft past the knee. An
 * embedder asks for it after each update of the monitor; the simulator's flights with the limiter
 * ask the same class.
 */
package org.solarmargin.core.limiter;
