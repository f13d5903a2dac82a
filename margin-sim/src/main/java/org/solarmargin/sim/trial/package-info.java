/** Many random flights of a scenario with the estimator in the loop, judged against the truth. */
package org.solarmargin.sim.trial;
