/** Roots and small linear systems. */
package org.solarmargin.cli.fit.numeric;
