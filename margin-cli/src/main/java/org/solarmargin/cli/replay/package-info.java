/** The replay verb: a flight log through gate, estimator and alerts, and what came of it. */
package org.solarmargin.cli.replay;
