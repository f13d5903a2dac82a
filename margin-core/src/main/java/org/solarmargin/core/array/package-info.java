/**
 * Equal cells in series and parallel as one source. The array's bus voltage and current are those
 * of the cell times the counts. Unequal cells are modelled in the simulator only.
 */
package org.solarmargin.core.array;
