/**
 * The verb that chooses alert rules on many flights: flights gathered, results in text and as a
 * page.
 */
package org.solarmargin.cli.tune;
