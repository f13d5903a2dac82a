/** The watch verb: the live margin at the ground station, with display, log, page and replies. */
package org.solarmargin.cli.watch;
