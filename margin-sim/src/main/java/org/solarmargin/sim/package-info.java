/** The test bench. */
package org.solarmargin.sim;
