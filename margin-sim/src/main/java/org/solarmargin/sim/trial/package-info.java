/** Random flights of a scenario with the estimator in the loop, compared with the true values. */
package org.solarmargin.sim.trial;
