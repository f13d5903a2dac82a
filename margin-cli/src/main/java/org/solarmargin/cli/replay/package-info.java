/** The replay verb: a flight log processed by gate, estimator and alerts, and the results. */
package org.solarmargin.cli.replay;
