/**
 * Equal cells in series and parallel as one source. The array's bus voltage and current are the
 * cell's times the counts; unequal cells are the simulator's business.
 */
package org.solarmargin.core.array;
