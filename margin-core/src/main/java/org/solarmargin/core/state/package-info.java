/** The saved form of states, for this module alone. */
package org.solarmargin.core.state;
