/**
 * The margin estimator: from bus voltage, bus current and throttle to available power with an
 * honest lower bound. It knows neither the profile format nor the alert rules.
 */
package org.solarmargin.core.estimator;
