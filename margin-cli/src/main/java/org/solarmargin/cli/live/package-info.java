/**
 * A live monitor for embedders: a link read by a thread of its own, and a feed that turns its rows,
 * and its silence, into calls of the monitor. {@code margin watch} uses the same classes.
 */
package org.solarmargin.cli.live;
