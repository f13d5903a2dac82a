/** The trial verb: many random flights, evaluated against the truth. */
package org.solarmargin.cli.trial;
