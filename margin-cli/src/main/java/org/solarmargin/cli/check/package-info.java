/** What a profile leaves open, and how much each assumed default widens the interval. */
package org.solarmargin.cli.check;
