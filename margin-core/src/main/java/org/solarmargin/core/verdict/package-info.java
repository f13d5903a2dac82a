/** What the gate decides on each sample, the limits it applies, and how often it decided what. */
package org.solarmargin.core.verdict;
