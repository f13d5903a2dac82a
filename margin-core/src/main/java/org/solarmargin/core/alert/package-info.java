/**
 * When to tell the flyer. Levels have the sense of 14 CFR 25.1322, used as vocabulary only: that
 * rule is not meant for unmanned aircraft.
 */
package org.solarmargin.core.alert;
