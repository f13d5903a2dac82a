/** The trial verb: many random flights, judged against the truth. */
package org.solarmargin.cli.trial;
