/** The tune verb: collects many flights, chooses alert rules, and reports as text and page. */
package org.solarmargin.cli.tune;
