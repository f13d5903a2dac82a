/**
 * Evaluation of alert rules on flights: evidence, scores, the grid of rules and the choice among
 * them.
 */
package org.solarmargin.cli.tune.rule;
