/**
 * The margin estimator: from bus voltage, bus current and throttle it estimates the available power
 * with a lower bound that holds with the stated probability. It does not depend on the profile
 * format or the alert rules.
 */
package org.solarmargin.core.estimator;
