/**
 * Alerts to the flyer. The levels are used in the sense of 14 CFR 25.1322, as vocabulary only: that
 * rule does not apply to unmanned aircraft.
 */
package org.solarmargin.core.alert;
