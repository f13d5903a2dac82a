/**
 * A live monitor for embedders: a link read by its own thread, and a feed that passes its rows, and
 * gaps without rows, to the monitor. {@code margin watch} uses the same classes.
 */
package org.solarmargin.cli.live;
